import { rms } from '#core/numeric/moments'
import { rereadRests, type SlowErrors, type TravelStart } from '#core/rig/slow-errors'
import { incrementsOf } from './increments.ts'

/**
 * Relative standard uncertainty that the rig's lengths leave in increments: what all marks share cancels in a difference, but a radius
 * wrong by 1 % makes every increment wrong by 1 % (JCGM 100, 5.1.3: changes by one standard uncertainty of each length, in quadrature).
 * @param anglesDeg rests 0 … K, travel positive
 * @returns 0 for a trace that does not move
 */
export const incrementScaleU = (anglesDeg: readonly number[], slow: SlowErrors, start: TravelStart): number => {
  const read = (changesMm: readonly number[]): number[] => incrementsOf(rereadRests(anglesDeg, slow, start, changesMm))
  const asStated = read([])
  const size = rms(asStated)
  if (!(size > 0)) return 0
  const changed = slow.lengths.map((_, place) => read(slow.lengths.map(({ uMm }, at) => (at === place ? uMm : 0))))
  return Math.hypot(...changed.map((increments) => rms(increments.map((g, k) => g - (asStated[k] ?? 0))) / size))
}
