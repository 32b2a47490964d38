import { dealtOut } from '#core/numeric/dealt-out'
import { mean, sum } from '#core/numeric/moments'
import { incrementsOf } from './increments.ts'

/** Standard uncertainty of one rest estimated from repeats, deg, and how well that is known. */
export interface Scatter {
  readonly uDeg: number
  readonly degreesOfFreedom: number
}

/**
 * Neighbouring increments share a mark, which correlates them by −½ and makes the sum of their squares vary 1 + 2·¼ times
 * as much as independent ones would.
 */
const shared = 1.5

/**
 * Standard uncertainty of one rest estimated from the trace itself: how far increments at the same phase of the
 * electrical cycle scatter from cycle to cycle, over √2. Marks and motor together; slow errors of the rig do not show, and
 * commands that share one mark in every cycle say nothing.
 * @returns null with fewer than two whole cycles
 */
export const repeatScatter = (anglesDeg: readonly number[], microsteps: number): Scatter | null => {
  const period = 4 * microsteps
  const increments = incrementsOf(anglesDeg)
  if (increments.length < 2 * period) return null
  const phases = dealtOut(increments, period).filter((values) => values.some((g) => g !== 0))
  const squares = phases.flatMap((values) => {
    const centre = mean(values)
    return values.map((value) => (value - centre) ** 2)
  })
  const free = phases.reduce((total, values) => total + values.length - 1, 0)
  if (free < 1) return null
  return { uDeg: Math.sqrt(sum(squares) / free / 2), degreesOfFreedom: free / shared }
}
