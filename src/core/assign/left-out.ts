import type { Assignment } from './assignment.ts'
import { markNameAt } from './mark-name.ts'
import type { OrderedRun } from './order-run.ts'

/** Gaps of more than one command where there are only one or two of them among at least eight. */
const loneGaps = (counts: readonly number[]): { readonly mark: number; readonly from: number; readonly size: number }[] => {
  const gaps = counts.slice(1).map((count, i) => ({ mark: i + 1, from: counts[i] ?? 0, size: count - (counts[i] ?? 0) }))
  const wide = gaps.filter(({ size }) => size > 1)
  return wide.length > 2 || gaps.length < 8 ? [] : wide
}

const commandsWithin = (gaps: readonly { readonly from: number; readonly size: number }[]): number[] => gaps.flatMap(({ from, size }) => Array.from({ length: size - 1 }, (_, i) => from + 1 + i))

/** Commands of a counting without a mark where nearly every other has one. */
export const perhapsLeftOut = (lastCommand: readonly number[]): number[] => commandsWithin(loneGaps(lastCommand))

/**
 * Where nearly every gap holds one command and one or two hold more, a mark may simply have been left out: marks alone
 * cannot tell that from microsteps that merged.
 */
export const overlooked = (counts: readonly number[], run: OrderedRun): Pick<Assignment, 'perhapsLeftOut' | 'warnings'> => {
  const wide = loneGaps(counts.slice(0, run.marks.length))
  if (wide.length === 0) return { perhapsLeftOut: [], warnings: [] }
  const named = wide.map(({ mark, size }) => `mark ${markNameAt(run.marks, mark)} (${size} commands)`).join(' and ')
  return {
    perhapsLeftOut: commandsWithin(wide),
    warnings: [`All gaps hold one command but the one before ${named}: a mark was left out there, or those microsteps merged. If it was left out, say so with command numbers on both sides.`],
  }
}
