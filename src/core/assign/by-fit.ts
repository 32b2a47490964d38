import { countGaps, type GapCounts } from '#core/numeric/count-gaps'
import type { AssignOptions, Assignment, Doubt } from './assignment.ts'
import { labelsToSettle } from './labels-to-settle.ts'
import { overlooked } from './left-out.ts'
import { markNameAt } from './mark-name.ts'
import type { OrderedRun } from './order-run.ts'
import { otherCounts } from './other-counts.ts'

/** e³: the chosen number is twenty times likelier than the next one. */
export const decisive = 3

const noiseOf = (fit: GapCounts, marks: number, { uDeg, microstepDeg }: AssignOptions): number =>
  Math.max((uDeg / microstepDeg) ** 2, fit.cost / Math.max(1, marks - 1), 1e-6)

const doubtsOf = (fit: GapCounts, run: OrderedRun, noise: number): (Doubt & { readonly place: number })[] =>
  run.marks.flatMap((mark, m) => {
    const logOdds = (fit.margins[m] ?? Number.POSITIVE_INFINITY) / (2 * noise)
    return logOdds < decisive ? [{ place: m, line: mark.line, command: fit.counts[m] ?? 0, couldBe: fit.alternatives[m] ?? 0, logOdds }] : []
  })

const askForLabels = (doubts: readonly (Doubt & { readonly place: number })[], toLabel: readonly number[], marks: OrderedRun['marks']): string[] => {
  if (doubts.length === 0) return []
  const named = doubts.slice(0, 6).map(({ place, command, couldBe }) => `mark ${markNameAt(marks, place)} (command ${command}, or ${couldBe})`)
  return [`The marks alone do not settle which command they belong to: ${named.join(', ')}${doubts.length > 6 ? ` and ${doubts.length - 6} more` : ''}. Write the command number beside ${toLabel.length === 1 ? 'mark' : 'marks'} ${toLabel.map((place) => markNameAt(marks, place)).join(', ')} and give it in the command column; the others then follow.`]
}

/** Counts for the gaps by least squares; a run that goes round gets the start mark again at its end. */
export const byFit = (run: OrderedRun, commands: number, closed: boolean, options: AssignOptions): { assignment: Assignment; cost: number } | null => {
  const first = run.marks[0]?.command ?? 0
  const positions = run.anglesDeg.map((angle) => angle / options.microstepDeg)
  const known = run.marks.map((mark) => (mark.command === null ? null : mark.command - first))
  const problem = closed ? { positions: [...positions, (options.turnDeg ?? 0) / options.microstepDeg], total: commands, known: [...known, null] } : { positions, total: commands, known }
  const fit = countGaps(problem)
  if (!fit) return null
  const noise = noiseOf(fit, positions.length, options)
  const doubts = doubtsOf(fit, run, noise)
  const margin = fit.margins.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY) / (2 * noise)
  const lastCommand = fit.counts.slice(0, run.marks.length)
  const toLabel = labelsToSettle(problem, doubts.map(({ place }) => place), { noise, decisive })
  const gaps = overlooked(fit.counts, run)
  const logOdds = fit.margins.slice(0, run.marks.length).map((each) => (Number.isFinite(each) ? each / (2 * noise) : null))
  return {
    cost: fit.cost,
    assignment: {
      decidedBy: 'fit',
      commands,
      lastCommand,
      closed,
      ambiguous: doubts.length > 0,
      margin: Number.isFinite(margin) ? margin : null,
      logOdds,
      doubts: doubts.map(({ place: _, ...doubt }) => doubt),
      labelsToSettle: toLabel.flatMap((place) => run.marks[place]?.line ?? []),
      others: otherCounts({ lastCommand, commands, closed }, doubts),
      perhapsLeftOut: gaps.perhapsLeftOut,
      warnings: [...askForLabels(doubts, toLabel, run.marks), ...gaps.warnings],
    },
  }
}
