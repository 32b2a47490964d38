import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import { mean, sum } from '#core/numeric/moments'
import type { Noise } from './cycle-noise.ts'

/**
 * What is left of values over commands 1 … K when each phase of the electrical cycle has its own mean taken out.
 * @param values of commands 0 … K; the start mark is left out
 */
export const aboutPattern = (values: readonly number[], microsteps: number): number[] => {
  const period = 4 * microsteps
  const sums = new Float64Array(period)
  const counts = new Float64Array(period)
  for (let k = 1; k < values.length; k++) {
    sums[k % period] = (sums[k % period] as number) + (values[k] as number)
    counts[k % period] = (counts[k % period] as number) + 1
  }
  return values.slice(1).map((value, i) => value - (sums[(i + 1) % period] as number) / (counts[(i + 1) % period] as number))
}

/** Scatter about the repeating pattern. */
export interface PatternNoise extends Noise {
  /** So many neighbouring commands scatter as one: a full step's where they share more than chance, else 1. */
  readonly together: number
}

/** One chance in twenty that full steps seem to share what they do not. */
const shared = 0.95

/**
 * Variance of one error about the repeating pattern. What whole full steps have in common (teeth, a slow wander) makes
 * neighbours alike; their share is then counted as if every command of a full step were one.
 * @param spent numbers fitted to the errors beside the pattern
 * @returns null with fewer than two degrees of freedom
 */
export const patternNoise = (errorsDeg: readonly number[], microsteps: number, spent: number): PatternNoise | null => {
  const left = aboutPattern(errorsDeg, microsteps)
  const free = left.length - 4 * microsteps - spent
  if (free < 2) return null
  const squares = sum(left.map((value) => value * value))
  const alone = { variance: squares / free, degreesOfFreedom: free, together: 1 }
  const groups = Array.from({ length: Math.floor(left.length / microsteps) }, (_, i) => mean(left.slice(i * microsteps, (i + 1) * microsteps)))
  const together = microsteps * sum(groups.map((value) => value * value))
  const [above, below] = [groups.length - 4 - spent, free - (groups.length - 4 - spent)]
  if (above < 1 || below < 1) return alone
  const [between, apart] = [together / above, Math.max(squares - together, 0) / below]
  return between > apart * fQuantile(shared, above, below) ? { variance: between, degreesOfFreedom: above, together: microsteps } : alone
}
