import type { Result } from '#core/report/result-schema'
import { firstRowLine } from './trace-of-work.ts'
import type { Work } from './work.ts'

/** The result of a typed test with its marks named by their rows in the grid, for a person who never sees the trace file's lines. */
export const namedByRow = (result: Result, work: Work): Result => {
  if (work.source !== 'typed') return result
  const first = firstRowLine(work)
  const named = (text: string): string => text.replaceAll(/\b\d+ \(line (\d+)\)/g, (_, line) => String(Number(line) - first + 1))
  const { recommendation, modes, warnings } = result
  return { ...result, warnings: warnings.map(named), modes: modes.map((mode) => ({ ...mode, why: named(mode.why) })), recommendation: { ...recommendation, why: named(recommendation.why) } }
}
