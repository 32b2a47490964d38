import tCdf from '@stdlib/stats-base-dists-t-cdf'
import { noncentralF } from '#core/numeric/noncentral-f'
import { unifiedInterval } from '#core/numeric/unified-interval'

export interface WaveNoise {
  /** Components seen: sine and cosine, or one of them. */
  readonly components: 1 | 2
  readonly degreesOfFreedom: number
}

/** From so many standard errors on, Student's t stands in for the noncentral F; the length's own bias is taken off. */
const far = 8

/**
 * 95 % interval of a wave's true amplitude from its fitted one, in the unit of both. The fitted amplitude is never zero,
 * even without a wave: its square over the error's is noncentral F. The interval reaches zero when zero would do.
 * @param error standard error of one component
 */
export const amplitudeInterval = (amplitude: number, error: number, { components, degreesOfFreedom }: WaveNoise): readonly [low: number, high: number] => {
  if (!(error > 1e-12 * amplitude)) return [amplitude, amplitude]
  const strength = (amplitude / error) ** 2 / components
  const probabilityBelow = (truth: number): number => {
    if (amplitude > far * error && truth > (far / 2) * error) return tCdf((amplitude - Math.hypot(truth, (components - 1) * error)) / error, degreesOfFreedom)
    return noncentralF(strength, [components, degreesOfFreedom], (truth / error) ** 2)
  }
  return unifiedInterval({ probabilityBelow, distance: (truth) => truth / error, scale: Math.max(amplitude, error) })
}
