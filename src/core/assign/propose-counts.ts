import type { AssignOptions } from './assignment.ts'
import type { OrderedRun } from './order-run.ts'
import { goesRound, restsIn, spanFits } from './span.ts'

/** Share by which a rig length may be wrong without anyone having noticed, by what it may bend: none, a radius, a wall. */
const wrongLength = [0, 0.03, 0.25] as const

/** Candidates for K from the span of the marks, the likeliest sorts first. */
export const proposedCounts = (run: OrderedRun, options: AssignOptions): { commands: number; closed: boolean }[] => {
  const { microstepDeg, microsteps, turnDeg } = options
  if (options.commands !== null) {
    const round = turnDeg !== null && Math.abs(options.commands * microstepDeg - turnDeg) < 1e-6 * turnDeg && restsIn(run) <= options.commands
    return [{ commands: options.commands, closed: round && goesRound(run, options) }]
  }
  // A whole turn with a mark of its own at its end, which a first step lost in the dead band may have kept short of the start.
  if (options.ordered && turnDeg !== null && restsIn(run) - 1 === Math.round(turnDeg / microstepDeg) && spanFits(run, { lastCommand: [restsIn(run) - 1] }, options)) return [{ commands: restsIn(run) - 1, closed: false }]
  if (turnDeg !== null && goesRound(run, options)) return [{ commands: Math.round(turnDeg / microstepDeg), closed: true }]
  const spanned = Math.max(1, Math.round((run.anglesDeg.at(-1) ?? 0) / microstepDeg))
  const counted = restsIn(run) - 1
  const near = Math.abs((run.anglesDeg.at(-1) ?? 0) / microstepDeg - counted) <= Math.max(1, microsteps / 2, wrongLength[options.bend] * counted)
  return [...new Set([...(near ? [counted] : []), ...(spanned >= counted ? [spanned] : [])])].map((commands) => ({ commands, closed: false }))
}
