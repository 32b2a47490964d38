import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { likelySizes, type LikelyOptions } from './likely-sizes.ts'
import type { Increment, IncrementLimits } from './mode-increments.ts'
import { zoneOf } from './zone.ts'

/** Less than this is a failure proven: 2.5 %, as for a mode that is said to hold. */
export const falseAlarm = 0.025

/** Probability of `least` or more successes in `trials`. */
const binomialTail = (least: number, trials: number, p: number): number => {
  let term = (1 - p) ** trials
  let below = 0
  for (let k = 0; k < least; k++) {
    below += term
    term *= ((trials - k) / (k + 1)) * (p / (1 - p))
  }
  return Math.max(0, 1 - below)
}

const clipped = (size: number, { low, high }: IncrementLimits): number => Math.min(high, Math.max(low, size))

/** Chance that any increment would read as far outside as the furthest one does, were all within the limits. */
const furthest = (increments: readonly Increment[], sizes: readonly number[], options: LikelyOptions & { readonly limits: IncrementLimits }): number => {
  const { limits, coverageFactor } = options
  const beyond = increments.reduce((most, { size }) => Math.max(most, limits.low - size, size - limits.high), Number.NEGATIVE_INFINITY)
  return increments.reduce((sum, { expanded }, i) => {
    const within = clipped(sizes[i] ?? 1, limits)
    const u = expanded / coverageFactor
    const below = normalCdf((limits.low - beyond - within) / u, 0, 1)
    const above = normalCdf((within - limits.high - beyond) / u, 0, 1)
    return sum + below + above
  }, 0)
}

/** Chance that so many of those near or beyond a limit read outside beyond U, were all of them just on it. */
const soMany = (increments: readonly Increment[], sizes: readonly number[], { limits, coverageFactor }: LikelyOptions & { readonly limits: IncrementLimits }): number => {
  const near = increments.filter(({ expanded }, i) => zoneOf(sizes[i] ?? 1, expanded, limits) !== 'inside')
  const outside = near.filter(({ size, expanded }) => zoneOf(size, expanded, limits) === 'outside')
  return binomialTail(outside.length, near.length, normalCdf(-coverageFactor, 0, 1))
}

/**
 * How easily a motor whose increments all lie within the limits could have read as it did, by marking alone. Each U
 * leaves 2.3 % beyond it, so among many increments near a limit some always read outside; what tells a failure is one far
 * out, or too many. Increments are taken at their likeliest true sizes, pulled in to the nearer limit.
 */
export const failChance = (increments: readonly Increment[], options: LikelyOptions & { readonly limits: IncrementLimits }): number => {
  if (increments.some(({ expanded }) => expanded === 0)) return 0
  const sizes = likelySizes(increments, options)
  return Math.min(1, furthest(increments, sizes, options), soMany(increments, sizes, options))
}
