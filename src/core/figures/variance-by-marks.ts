import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import tCdf from '@stdlib/stats-base-dists-t-cdf'
import { meanSquare } from '#core/numeric/moments'
import { noncentralScore } from '#core/numeric/noncentral-chi-squared'
import { unifiedInterval } from '#core/numeric/unified-interval'
import { cycleFromPart } from './cycle-from-part.ts'
import { evenlyWeighed, type Spread } from './evenly-weighed.ts'
import { type Unrepeated, unrepeated } from './unrepeated.ts'
import { bothOf, type VarianceRange } from './variance-range.ts'

export interface EffectiveOptions {
  readonly microsteps: number
  readonly microstepDeg: number
  /** Standard uncertainty of a mark that is known to be measurement, deg. */
  readonly uDeg: number
  /** Degrees of freedom behind u; infinite, or left out, where it was stated. */
  readonly uFreedom?: number
  /** So many marks of their own the commands are worth (see `independentMarks`); left out: one each. */
  readonly marks?: number
}

/**
 * Range of σ² from one mean square. K squares of normal marks are noncentral chi-squared with K − 1 degrees of freedom. Two
 * things add to their spread: what a u estimated from few repeats leaves open; and, where a motor repeats only to τ, that
 * other cycles would have come out otherwise. Over n values of variance τ² about a pattern of mean square P = σ² − τ² the
 * mean square varies by (2τ⁴ + 4τ²P)/n. As τ comes from the trace, Student's t takes the normal distribution's place, with
 * Welch and Satterthwaite's degrees of freedom (JCGM 100, G.4).
 */
const rangeOf = ({ total, worth }: Spread, motor: Unrepeated, { uDeg, uFreedom = Number.POSITIVE_INFINITY, marks = worth }: EffectiveOptions): VarianceRange => {
  const commands = Math.min(worth, marks)
  const u2 = uDeg * uDeg
  const marking = u2 * (1 - 1 / worth)
  if (!(marking > 1e-12 * total)) return [Math.max(0, total - marking), Math.max(0, total - marking)]
  const ofMarks = (variance: number): number => Math.sqrt((2 * u2 * u2 + 4 * u2 * variance) / commands)
  const ofMotor = (variance: number): number => Math.sqrt((2 * motor.variance ** 2 + 4 * motor.variance * Math.max(0, variance - motor.variance)) / motor.values)
  const ofAll = (variance: number): number => Math.hypot(ofMarks(variance), marking * Math.sqrt(2 / uFreedom), ofMotor(variance))
  return unifiedInterval({
    probabilityBelow: (variance) => {
      const score = (noncentralScore((commands * total) / u2, commands - 1, (commands * variance) / u2) * ofMarks(variance)) / ofAll(variance)
      const share = (ofMotor(variance) / ofAll(variance)) ** 4
      return share > 0 ? tCdf(score, motor.degreesOfFreedom / share) : normalCdf(score, 0, 1)
    },
    distance: (variance) => variance / ofAll(variance),
    scale: total,
  })
}

/**
 * 95 % range of σ² from u and from what the trace's own repeats show beyond it, for less than four electrical cycles. It
 * holds what these commands did and what the motor does over a cycle: a part of a cycle more lets some phases weigh more
 * than others, and of less than one the rest is told by waves.
 * @param errorsDeg e_0 … e_K
 */
export const varianceByMarks = (errorsDeg: readonly number[], options: EffectiveOptions): VarianceRange => {
  const counted = errorsDeg.slice(1)
  const { microsteps, uDeg } = options
  const motor = unrepeated(errorsDeg, microsteps, uDeg)
  const marked = rangeOf({ total: meanSquare(counted), worth: counted.length }, motor, options)
  const cycle = counted.length < 4 * microsteps ? cycleFromPart(counted, microsteps, uDeg) : rangeOf(evenlyWeighed(counted, microsteps), motor, options)
  return bothOf(marked, cycle)
}
