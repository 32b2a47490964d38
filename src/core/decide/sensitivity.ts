import { extremes } from '#core/numeric/moments'
import type { Increment, IncrementLimits } from './mode-increments.ts'

/** How far a verdict hangs on the limits and on u. */
export interface Sensitivity {
  /** With limits 1 ± h the mode holds from this h on. */
  readonly holdsFromHalfWidth: number
  /** … and fails with any h below this one; between the two it is not proven. 0 where nothing could make it fail. */
  readonly failsBelowHalfWidth: number
  /** u times this is where the mode just holds (every increment inside): above 1 there is room. null: no u makes it hold. */
  readonly uFactorToHold: number | null
  /** u times this is where the mode just fails (one increment outside). null: no u makes it fail. */
  readonly uFactorToFail: number | null
}

const largest = (values: readonly number[]): number => extremes(values)[1]
const smallest = (values: readonly number[]): number => extremes(values)[0]

/** Distance of an increment from the nearer limit, positive inside. */
const margin = ({ size }: Increment, { low, high }: IncrementLimits): number => Math.min(size - low, high - size)

const ratio = (distance: number, expanded: number): number => (expanded > 0 ? distance / expanded : Number.POSITIVE_INFINITY)

const toHold = (increments: readonly Increment[], limits: IncrementLimits): number => smallest(increments.map((each) => ratio(margin(each, limits), each.expanded)))

const toFail = (increments: readonly Increment[], limits: IncrementLimits): number =>
  largest(increments.map((each) => (margin(each, limits) < 0 ? ratio(-margin(each, limits), each.expanded) : 0)))

const finite = (factor: number): number | null => (factor > 0 && Number.isFinite(factor) ? factor : null)

/**
 * What other limits or another u would have made of the same increments. Exact: each comes from comparing |g − 1| and the
 * limits with U, which is proportional to u. Where the jumps can be read in several ways, all must agree.
 * @param readings increments of the mode in each reading, at least one each
 */
export const sensitivityOf = (readings: readonly (readonly Increment[])[], limits: IncrementLimits): Sensitivity => ({
  holdsFromHalfWidth: largest(readings.flat().map(({ size, expanded }) => Math.abs(size - 1) + expanded)),
  failsBelowHalfWidth: Math.max(0, smallest(readings.map((increments) => largest(increments.map(({ size, expanded }) => Math.abs(size - 1) - expanded))))),
  uFactorToHold: finite(smallest(readings.map((increments) => toHold(increments, limits)))),
  uFactorToFail: finite(smallest(readings.map((increments) => toFail(increments, limits)))),
})
