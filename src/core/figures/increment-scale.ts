import { rms } from '#core/numeric/moments'
import type { SlowErrors } from '#core/rig/slow-errors'
import { incrementsOf } from './increments.ts'

/** Where a trace begins on the rig, and its sense of travel there. */
interface Start {
  /** Located angle of rest 0, deg. */
  readonly startDeg: number
  readonly sign: 1 | -1
}

/**
 * Relative standard uncertainty that the rig's lengths leave in increments: what all marks share cancels in a difference, but a radius
 * wrong by 1 % makes every increment wrong by 1 % (JCGM 100, 5.1.3: changes by one standard uncertainty of each length, in quadrature).
 * @param anglesDeg rests 0 … K, travel positive
 * @returns 0 for a trace that does not move
 */
export const incrementScaleU = (anglesDeg: readonly number[], { lengths, reread }: SlowErrors, { startDeg, sign }: Start): number => {
  const [first = 0] = anglesDeg
  const read = (longer: number | null): number[] => {
    const changes = lengths.map(({ uMm }, place) => (place === longer ? uMm : 0))
    return incrementsOf(anglesDeg.map((angle) => sign * reread(startDeg + sign * (angle - first), changes)))
  }
  const asStated = read(null)
  const size = rms(asStated)
  if (!(size > 0)) return 0
  return Math.hypot(...lengths.map((_, place) => rms(read(place).map((g, k) => g - (asStated[k] ?? 0))) / size))
}
