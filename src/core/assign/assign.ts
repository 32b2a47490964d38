import { mostCommandsPerMark } from '#core/ingest/check-marks'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import { byCommand, byOrder, byTally } from './as-said.ts'
import type { AssignOptions, Assignment } from './assignment.ts'
import { byFit, decisive } from './by-fit.ts'
import { cannotFit } from './cannot-fit.ts'
import { countingMisfit } from './counting-misfit.ts'
import { logWays } from '#core/numeric/log-ways'
import { shiftIn, shiftSentence } from './lost-cycles.ts'
import type { OrderedRun } from './order-run.ts'
import { proposedCounts } from './propose-counts.ts'
import { restsIn, spanFits } from './span.ts'

/** −2 log likelihood of a counting, noise unknown, and what it costs that this one was picked out of so many. */
const countingCost = (run: OrderedRun, { commands, lastCommand, closed }: Assignment, { microstepDeg, microsteps, bend, uDeg }: AssignOptions): number => {
  const marks = lastCommand.length
  const misfit = countingMisfit(run.anglesDeg.map((angle) => angle / microstepDeg), lastCommand, { microsteps, bend })
  const free = closed ? 0 : logWays(commands - 1, marks - 2)
  return marks * Math.log(Math.max(misfit / marks, (uDeg / microstepDeg) ** 2, 1e-6)) + 2 * free
}

const bestOfFits = (run: OrderedRun, options: AssignOptions): Assignment | Unmeasurable => {
  // A stated number far from the span, or a span that a slip has made huge, is refused before the counting, which takes long where nothing fits.
  const possible = proposedCounts(run, options).filter(({ commands, closed }) => closed || (commands <= mostCommandsPerMark * restsIn(run) && spanFits(run, { lastCommand: [commands] }, options)))
  const fits = possible.flatMap(({ commands, closed }) => {
    const rests = closed ? commands : commands + 1
    const everyOne = restsIn(run) === rests
    if (everyOne && run.marks.every((mark) => mark.command === null)) return [{ assignment: { ...byOrder(run), commands, closed }, cost: 0 }]
    const fit = byFit(run, commands, closed, options)
    return fit ? [everyOne ? { ...fit, assignment: { ...byOrder(run), commands, closed } } : fit] : []
  })
  const [best, ...rivals] = fits.length > 1 ? fits.map((fit) => ({ ...fit, cost: countingCost(run, fit.assignment, options) })).sort((a, b) => a.cost - b.cost) : fits
  const close = rivals.filter(({ cost, assignment }) => !assignment.closed && cost - (best?.cost ?? 0) < 2 * decisive).map(({ assignment }) => assignment.lastCommand)
  return (best && { ...best.assignment, others: [...close, ...best.assignment.others] }) ?? cannotFit(run, options, options.commands ?? Math.round((run.anglesDeg.at(-1) ?? 0) / options.microstepDeg), options.commands === null ? shiftsOf(run, byOrder(run), options) : [])
}

/** Marks that fall off their commands by full steps: lost electrical cycles, or a mistake. */
const shiftsOf = (run: OrderedRun, { lastCommand }: Assignment, { microstepDeg, microsteps }: AssignOptions): string[] => {
  const shift = shiftIn(run.anglesDeg, lastCommand, { fullStepDeg: microstepDeg * microsteps, microsteps })
  return shift ? [shiftSentence(shift)] : []
}

/**
 * Which commands belong to which mark: by label, by tally, by plain order where every command has its mark, else by
 * least squares over all whole counts (exact).
 */
export const assign = (run: OrderedRun, options: AssignOptions): Assignment | Unmeasurable => {
  const labelled = run.marks.every((mark) => mark.command !== null)
  const tallied = run.marks.every((mark) => mark.tally !== null) && run.marks.some((mark) => mark.tally !== 0)
  const assignment = labelled ? byCommand(run) : tallied ? byTally(run, options) : bestOfFits(run, options)
  if ('kind' in assignment) return assignment
  const shifted = assignment.decidedBy === 'fit' ? [] : shiftsOf(run, assignment, options)
  return spanFits(run, assignment, options) ? { ...assignment, warnings: [...assignment.warnings, ...shifted] } : cannotFit(run, options, assignment.commands, shifted)
}
