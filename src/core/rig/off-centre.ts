import type { Contribution } from './budget.ts'
import { rectangular } from './type-b.ts'

/** How far from the paper's centre the pivot is taken to be, mm along each axis, when nothing says more. */
export const assumedOffCentreMm = 0.5

const inRadians = (deg: number): number => (deg * Math.PI) / 180

/**
 * What an unseen off-centre pivot can do to angles over part of a turn. Its error is once per turn, (e/R)·sin(θ − φ), and
 * cannot be told from the motor's on a short arc, so it is bounded: each coordinate of the pivot rectangular within ±0.5 mm,
 * and of the wave only what is left about its mean over these angles.
 * @param anglesDeg angles on the paper, before gears
 */
export const offCentreOf = (anglesDeg: readonly number[], radiusMm: number): Contribution => {
  const perAxis = rectangular(assumedOffCentreMm) / radiusMm
  const meanCos = anglesDeg.reduce((sum, angle) => sum + Math.cos(inRadians(angle)), 0) / anglesDeg.length
  const meanSin = anglesDeg.reduce((sum, angle) => sum + Math.sin(inRadians(angle)), 0) / anglesDeg.length
  const spread = Math.sqrt(Math.max(0, 1 - meanCos * meanCos - meanSin * meanSin))
  return {
    source: 'centre of the pivot',
    uDeg: perAxis * spread * (180 / Math.PI),
    kind: 'common',
    degreesOfFreedom: null,
    note: `assumed: pivot within ±${assumedOffCentreMm} mm of the centre (rectangular); part of a turn cannot show it`,
  }
}
