import tCdf from '@stdlib/stats-base-dists-t-cdf'
import { mean, standardDeviation } from '#core/numeric/moments'
import { unifiedInterval } from '#core/numeric/unified-interval'
import { effectiveCount } from './effective-microsteps.ts'
import { evenlyWeighed } from './evenly-weighed.ts'
import { type EffectiveOptions, varianceByMarks } from './variance-by-marks.ts'
import { bothOf, type VarianceRange } from './variance-range.ts'

export interface Interval {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** How an interval came about, said beside it. */
export type IntervalMethod = 'scatter between electrical cycles' | 'parametric' | 'parametric, the rest of the electrical cycle from waves of order 1, 2 and 4'

export interface EffectiveInterval extends Interval {
  readonly method: IntervalMethod
}

/** Mean square error of each whole electrical cycle (4N commands); what is left at the end belongs to none. */
const cycleMeans = (squares: readonly number[], microsteps: number): number[] => {
  const length = 4 * microsteps
  return Array.from({ length: Math.floor(squares.length / length) }, (_, cycle) => mean(squares.slice(cycle * length, (cycle + 1) * length)))
}

/** Marking's share of the mean square: the offset fitted with the errors takes up one of K. */
const markingShare = (uDeg: number, commands: number): number => uDeg * uDeg * (1 - 1 / commands)

/**
 * σ² from how the cycles differ: Student's t on the logarithm of the mean square, which makes the skewed mean of few
 * squares nearly symmetric.
 */
const byCycles = (total: number, cycles: readonly number[], marking: number): VarianceRange => {
  const error = standardDeviation(cycles) / Math.sqrt(cycles.length)
  if (!(error > 1e-12 * total)) return [Math.max(0, total - marking), Math.max(0, total - marking)]
  return unifiedInterval({
    probabilityBelow: (variance) => tCdf((Math.log(total / (variance + marking)) * total) / error, cycles.length - 1),
    distance: (variance) => variance / error,
    scale: total,
  })
}

/** Commands that share a mark share its error: m of them on one mark count as one in the spread of a mean, K²/Σm² in all. */
export const independentMarks = (anglesDeg: readonly number[]): number => {
  let [squares, together] = [0, 0]
  for (let k = 1; k < anglesDeg.length; k++) {
    together = k > 1 && anglesDeg[k] === anglesDeg[k - 1] ? together + 1 : 1
    squares += 2 * together - 1
  }
  return (anglesDeg.length - 1) ** 2 / squares
}

const methodOf = (cycles: number): IntervalMethod => (cycles >= 4 ? 'scatter between electrical cycles' : cycles >= 1 ? 'parametric' : 'parametric, the rest of the electrical cycle from waves of order 1, 2 and 4')

/**
 * N_eff with a 95 % interval: from the scatter between whole electrical cycles where there are at least four, else
 * parametric. It holds both what these commands did and what the motor does over its cycle. Both ways keep 95 % at
 * N_eff = N, where σ² meets zero (unified interval). Percentiles of cycles drawn again fall short of 95 % with the half
 * dozen cycles a small motor gives, which is why they are not used.
 * @param errorsDeg e_0 … e_K
 */
export const effectiveInterval = (errorsDeg: readonly number[], options: EffectiveOptions): EffectiveInterval => {
  const { microsteps, microstepDeg, uDeg } = options
  const counted = errorsDeg.slice(1)
  const squares = counted.map((e) => e * e)
  const cycles = cycleMeans(squares, microsteps)
  const range = (total: number): VarianceRange => byCycles(total, cycles, markingShare(uDeg, squares.length))
  const [least, most] = cycles.length >= 4 ? bothOf(range(mean(squares)), range(evenlyWeighed(counted, microsteps).total)) : varianceByMarks(errorsDeg, options)
  const value = effectiveCount(microsteps, mean(squares), uDeg, microstepDeg)
  const count = (variance: number): number => effectiveCount(microsteps, variance, 0, microstepDeg)
  return { value, low: Math.min(value, count(most)), high: Math.max(value, count(least)), method: methodOf(squares.length / (4 * microsteps)) }
}
