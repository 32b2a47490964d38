import { linearLeastSquares } from '#core/numeric/least-squares'
import { meanSquare, rms } from '#core/numeric/moments'
import { type EffectiveInterval, effectiveInterval } from './effective-interval.ts'
import type { EffectiveOptions } from './variance-by-marks.ts'
import { effectiveCount } from './effective-microsteps.ts'

export interface CommonOptions extends EffectiveOptions {
  /** Standard uncertainty shared by all marks (rig lengths, centre, tilt), deg. */
  readonly commonUDeg: number
}

/** Powers 0 … highest of the command: on an arc an error of the rig takes up those to the third; the fourth is for a wall seen far aslant. */
const powersOf = (places: readonly number[], highest: number): number[][] => {
  const columns = [places.map(() => 1)]
  for (let power = 1; power <= highest; power++) columns.push((columns[power - 1] ?? []).map((value, k) => value * (places[k] ?? 0)))
  return columns
}

/** What these take up of the errors. */
const slowPart = (errors: readonly number[]): number[] => {
  const places = errors.map((_, k) => (2 * k) / errors.length - 1)
  const columns = powersOf(places, 4)
  const coefficients = linearLeastSquares(columns, errors)?.coefficients ?? []
  return places.map((_, k) => coefficients.reduce((sum, c, power) => sum + c * (columns[power]?.[k] ?? 0), 0))
}

/**
 * The interval of N_eff widened by an error f all marks share, which no scatter within the trace can show. f is slow, so it
 * can only have made or hidden the slow part r of the errors. At best it made all of r up to 2u: the upper end is that of
 * the errors without it. At worst it hid 2u more: that much is taken off the lower end, in quadrature with the marks' part.
 * @param errorsDeg e_0 … e_K
 */
export const widenedByCommon = (interval: EffectiveInterval, errorsDeg: readonly number[], options: CommonOptions): EffectiveInterval => {
  const { microsteps, microstepDeg, uDeg, commonUDeg } = options
  if (!(commonUDeg > 0)) return interval
  const counted = errorsDeg.slice(1)
  const slow = slowPart(counted)
  const size = rms(slow)
  const shared = 2 * commonUDeg
  const explained = size > 0 ? Math.min(1, shared / size) : 0
  const straight = effectiveInterval([errorsDeg[0] ?? 0, ...counted.map((e, i) => e - explained * (slow[i] ?? 0))], options)
  const variance = Math.max(0, meanSquare(counted) - uDeg * uDeg)
  const down = interval.value - effectiveCount(microsteps, variance + shared * shared + 2 * size * shared, 0, microstepDeg)
  return {
    ...interval,
    low: Math.max(0, interval.value - Math.hypot(interval.value - interval.low, down)),
    high: Math.min(microsteps, Math.max(interval.high, straight.high)),
  }
}
