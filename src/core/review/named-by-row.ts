import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { firstRowLine, keyOnLine } from './trace-of-work.ts'
import type { Work } from './work.ts'

/** The result of a typed test with its marks named by their rows in the grid, for a person who never sees the trace file's lines. */
export const namedByRow = (result: Result, work: Work): Result => {
  if (work.source !== 'typed') return result
  const first = firstRowLine(work)
  const named = (text: string): string => text.replaceAll(/\b\d+ \(line (\d+)\)/g, (_, line) => String(Number(line) - first + 1))
  const { recommendation, modes, warnings } = result
  return { ...result, warnings: warnings.map(named), modes: modes.map((mode) => ({ ...mode, why: named(mode.why) })), recommendation: { ...recommendation, why: named(recommendation.why) } }
}

/** A refusal of a typed test with its lines told as rows of the grid and fields of the set-up, which is what a person typed into. */
export const refusedByRow = (why: Unmeasurable, work: Work): Unmeasurable => {
  if (work.source !== 'typed') return why
  const first = firstRowLine(work)
  const rowed = (text: string): string => text.replaceAll(/\bline (\d+)/g, (line, n: string) => (Number(n) < first ? (keyOnLine(work, Number(n)) ?? line) : `row ${Number(n) - first + 1}`))
  const key = keyOnLine(work, Number(/^line (\d+)/.exec(why.where)?.[1]))
  return { ...why, what: rowed(why.what), where: key === undefined ? rowed(why.where).replace(/^row/, 'Row') : `set-up, ${key}` }
}
