import type { AssignOptions, Assignment } from './assignment.ts'
import type { OrderedRun } from './order-run.ts'

/** Rest positions that the marks hold. */
export const restsIn = (run: OrderedRun): number => run.marks.reduce((sum, mark) => sum + mark.multiplicity, 0)

/** The dial is covered all round: what is left open is no wider than the other gaps, or than one full step. */
export const goesRound = (run: OrderedRun, { turnDeg, microstepDeg, microsteps }: AssignOptions): boolean => {
  const angles = run.anglesDeg
  const last = angles.at(-1) ?? 0
  if (turnDeg === null || last > turnDeg - microstepDeg / 2) return false
  const widest = angles.slice(1).reduce((gap, angle, i) => Math.max(gap, angle - (angles[i] ?? 0)), 0)
  return turnDeg - last <= Math.max(1.25 * widest, Math.min(microsteps, 1.25) * microstepDeg)
}

/** Span and commands must agree to a fifth (on a wall to two, its foot may be far off), or to one and a half full steps where that is more. */
export const spanFits = (run: OrderedRun, assignment: Pick<Assignment, 'lastCommand'>, { microstepDeg, microsteps, bend }: AssignOptions): boolean => {
  const last = assignment.lastCommand.at(-1) ?? 0
  const miss = Math.abs((run.anglesDeg.at(-1) ?? 0) / microstepDeg - last)
  return miss <= Math.max(1.5 * microsteps, (bend === 2 ? 0.4 : 0.2) * last)
}
