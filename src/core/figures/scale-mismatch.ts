import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import { usualSteps } from '#core/quantity/usual-steps'
import { aboutPattern, patternNoise } from './about-pattern.ts'
import { twoDigits } from '#core/quantity/write-number'

/** Below this a bent or off-centre rig would do it as well; a length that is wrong by less is found elsewhere. */
const least = 0.015
/** One chance in a thousand. */
const level = 0.9995

/**
 * By how much the marks advance more than commanded, from cycle to cycle, as a share: 0.04 for 4 %. A motor in step cannot do
 * that, whatever its pattern.
 * @param errorsDeg e_0 … e_K
 * @returns null where there is nothing of the kind, or less than two electrical cycles
 */
export const scaleMismatch = (errorsDeg: readonly number[], { microsteps, microstepDeg }: { readonly microsteps: number; readonly microstepDeg: number }): number | null => {
  if (errorsDeg.length - 1 < 8 * microsteps) return null
  const way = aboutPattern(errorsDeg.map((_, k) => k * microstepDeg), microsteps)
  const left = aboutPattern(errorsDeg, microsteps)
  const squares = way.reduce((sum, each) => sum + each * each, 0)
  const share = way.reduce((sum, each, i) => sum + each * (left[i] ?? 0), 0) / squares
  const noise = patternNoise(errorsDeg.map((error, k) => error - share * k * microstepDeg), microsteps, 1)
  if (!noise || Math.abs(share) < least) return null
  return Math.abs(share) > tQuantile(level, noise.degreesOfFreedom) * Math.sqrt(noise.variance / squares) ? share : null
}

/** What such a mismatch means, one sentence or two. */
export const mismatchSentence = (share: number, { stepsPerRev, lengths }: { readonly stepsPerRev: number; readonly lengths: readonly string[] }): string => {
  const wanted = stepsPerRev / (1 + share)
  const near = usualSteps.find((steps) => Math.abs(steps / wanted - 1) < 0.008)
  const instead = near === undefined ? '' : `; a motor of ${near} steps per turn would fit`
  return `From cycle to cycle the marks advance ${twoDigits(Math.abs(share * 100))} % ${share > 0 ? 'more' : 'less'} than commanded, which a motor in step cannot do: ${['steps per revolution', ...new Set(lengths), 'a gear ratio'].join(' or ')} is wrong${instead}. Until that is settled the figures are of no use.`
}

/** The same as the reason why no mode can be judged. */
export const unsettledScale = (share: number): string => `the marks advance ${twoDigits(Math.abs(share * 100))} % ${share > 0 ? 'more' : 'less'} than commanded: settle steps per revolution, the lengths of the rig and the gears first`
