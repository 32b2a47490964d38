import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import { mean, quantileOfSorted } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { effectiveCount } from './effective-microsteps.ts'

export interface Interval {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** How an interval came about, said beside it. */
export type IntervalMethod = 'bootstrap over electrical cycles' | 'parametric'

export interface EffectiveInterval extends Interval {
  readonly method: IntervalMethod
}

export interface EffectiveOptions {
  readonly microsteps: number
  readonly microstepDeg: number
  /** Standard uncertainty of a mark that is known to be measurement, deg. */
  readonly uDeg: number
  readonly seed: number
  readonly resamples: number
}

/** Mean square error of each whole electrical cycle (4N commands), the leftover at the end shared out to none. */
const cycleMeans = (counted: readonly number[], microsteps: number): number[] => {
  const length = 4 * microsteps
  return Array.from({ length: Math.floor(counted.length / length) }, (_, cycle) => mean(counted.slice(cycle * length, (cycle + 1) * length).map((e) => e * e)))
}

/**
 * Probability to cut off at each end so that a percentile interval from few blocks is as wide as Student's t would make
 * it: Φ(−t·√(n/(n−1))) (Hesterberg, The American Statistician 69 (2015), 371–386, expanded percentile interval).
 */
const expandedTail = (blocks: number): number => normalCdf(tQuantile(0.025, blocks - 1) * Math.sqrt(blocks / (blocks - 1)), 0, 1)

const bootstrapMeans = (blocks: readonly number[], { seed, resamples }: EffectiveOptions): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length: resamples }, () => {
    let total = 0
    for (let i = 0; i < blocks.length; i++) total += blocks[Math.floor(random() * blocks.length)] as number
    return total / blocks.length
  })
}

/** Mean squares drawn as the marks would vary: every error with a fresh normal part of u. */
const parametricMeans = (counted: readonly number[], { seed, resamples, uDeg }: EffectiveOptions): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length: resamples }, () => mean(counted.map((e) => (e + uDeg * normal(random)) ** 2)) - uDeg * uDeg)
}

/**
 * N_eff with a 95 % interval: bootstrap over whole electrical cycles where there are at least four, else parametric
 * from u alone. Seeded, so the same trace gives the same interval.
 * @param errorsDeg e_0 … e_K
 */
export const effectiveInterval = (errorsDeg: readonly number[], options: EffectiveOptions): EffectiveInterval => {
  const { microsteps, microstepDeg, uDeg } = options
  const counted = errorsDeg.slice(1)
  const count = (meanSquare: number): number => effectiveCount(microsteps, meanSquare, uDeg, microstepDeg)
  const value = count(mean(counted.map((e) => e * e)))
  const blocks = cycleMeans(counted, microsteps)
  const byCycles = blocks.length >= 4
  const means = (byCycles ? bootstrapMeans(blocks, options) : parametricMeans(counted, options)).toSorted((a, b) => a - b)
  const tail = byCycles ? expandedTail(blocks.length) : 0.025
  const ends = [count(quantileOfSorted(means, 1 - tail)), count(quantileOfSorted(means, tail))]
  return { value, low: Math.min(value, ...ends), high: Math.max(value, ...ends), method: byCycles ? 'bootstrap over electrical cycles' : 'parametric' }
}
