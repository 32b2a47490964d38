import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { sum } from '#core/numeric/moments'
import { columnsOf, electricalWaves } from './waves.ts'

const unknown = [0, Number.POSITIVE_INFINITY] as const

/**
 * 95 % range of σ² over a whole electrical cycle of which only a part was marked: waves of order 1, 2 and 4 fitted to that
 * part say what the rest will do. A wave b·b of coefficients with covariance C has mean square bᵀb/2, found too large by
 * tr C/2 and varying by bᵀCb + tr C²/2; what the waves leave over beyond marks of u is added. From half a cycle on it says
 * something; from less next to nothing, which is the truth of it.
 * @param counted e_1 … e_K, deg
 */
export const cycleFromPart = (counted: readonly number[], microsteps: number, uDeg: number): readonly [low: number, high: number] => {
  const waves = electricalWaves([1, 2, 4], microsteps)
  const fit = linearLeastSquares([counted.map(() => 1), ...waves.flatMap((wave) => columnsOf(wave, counted.length))], counted)
  if (!fit || fit.degreesOfFreedom < 2) return unknown
  const left = fit.residualSumOfSquares / fit.degreesOfFreedom
  const inflated = left > 0 ? Math.max(1, (uDeg * uDeg) / left) : 1
  // A cosine of which every command sees a crest counts whole; scaled by √2 its square has the same mean.
  const scales = waves.flatMap(({ halfSeen }) => (halfSeen ? [Math.SQRT2] : [1, 1]))
  const b = scales.map((scale, i) => scale * (fit.coefficients[i + 1] ?? 0))
  const covariance = scales.map((a, i) => scales.map((c, j) => a * c * inflated * (fit.covariance[i + 1]?.[j + 1] ?? 0)))
  const square = sum(b.map((value, i) => (value * value - (covariance[i]?.[i] ?? 0)) / 2)) + Math.max(0, left - uDeg * uDeg)
  const variance = sum(covariance.flatMap((row, i) => row.map((value, j) => (b[i] ?? 0) * (b[j] ?? 0) * value + (value * value) / 2)))
  const half = tQuantile(0.975, fit.degreesOfFreedom) * Math.sqrt(Math.max(0, variance))
  return [Math.max(0, square - half), Math.max(0, square + half)]
}
