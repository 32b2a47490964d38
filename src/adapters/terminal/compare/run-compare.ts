import type { Command } from 'commander'
import writeFileAtomic from 'write-file-atomic'
import { compareMotors } from '#core/decide/compare/compare-motors'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { compareFigure } from '#core/report/compare/compare-figure'
import { comparedFrom, labelsFor } from '#core/report/compare/compared-from-result'
import type { Result } from '#core/report/result-schema'
import { readResult } from '#adapters/files/read-result'
import type { CompareOptions } from '#adapters/terminal/compare-command'
import { systemReason } from '#adapters/files/system-reason'
import { type Shown, tell } from '#adapters/terminal/outcome'
import { compareText } from './compare-text.ts'
import { needsFrom } from './needs.ts'

const writePicture = async (path: string, svg: string): Promise<Unmeasurable | null> => {
  try {
    await writeFileAtomic(path, svg)
    tell(`plot: ${path}`)
    return null
  } catch (error) {
    return unmeasurable(`it cannot be written (${systemReason(error)})`, path, 'name a file in a folder that exists and is yours')
  }
}

/** Reads the results, compares them and writes the plot where one is asked for. */
export const runCompare = async (paths: readonly string[], options: CompareOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const requirement = needsFrom(options, command)
  const read = await Promise.all(paths.map(readResult))
  const wrong = read.find(isUnmeasurable)
  if (wrong) return wrong
  const results = read.filter((result): result is Result => !isUnmeasurable(result))
  const labels = labelsFor(results, paths)
  const comparison = compareMotors(results.map((result, i) => comparedFrom(result, labels[i] ?? `result ${i + 1}`)), requirement)
  const failed = options.svg === undefined ? null : await writePicture(options.svg, compareFigure(comparison).svg)
  return failed ?? { json: comparison, text: compareText(comparison) }
}
