import type { TorqueCurve } from './torque-curve.ts'

/** Torque below which the shaft counts as having arrived, as a share of the curve's own size: rounding leaves about so much. */
const ARRIVED = 1e-13
/** Farther than this the shaft never stops: one whole electrical cycle was passed without a resting place. */
const CYCLE = 2 * Math.PI

const length = (a: number, b: number): number => Math.sqrt(a * a + b * b)

/** An upper bound of |d²T/dx²| over all x. */
const bendBound = (curve: TorqueCurve): number =>
  length(curve.cos1, curve.sin1) + 4 * length(curve.cos2, curve.sin2) + 16 * length(curve.cos4, curve.sin4)

/**
 * Where the shaft comes to rest from x (rad): x itself while |T(x)| ≤ friction, else the first place along the way the
 * torque pushes at which |T| has fallen to the friction.
 *
 * With g = |T| − f and M a bound of |T''|, no root lies nearer than h = 2g / (√(g'² + 2Mg) − g'); steps of that length
 * never leap over a resting place however narrow, and near one they shrink as Newton's do: what a last short one leaves,
 * M·h²/|g'| at most, need not be looked at again. Good to about 1e-12 rad, worse
 * (1e-7) only where the torque merely touches the friction. A motor whose torque nowhere falls to the friction turns one
 * cycle and is left there. Torque and slope are written out here, not called: fits take this loop millions of times.
 */
export const creep = (curve: TorqueCurve, x: number, friction: number): number => {
  const { cos1, sin1, cos2, sin2, cos4, sin4 } = curve
  const bend = bendBound(curve)
  const arrived = ARRIVED * Math.max(1, bend)
  let way = 0
  let place = x
  while (Math.abs(place - x) < CYCLE) {
    const c = Math.cos(place)
    const s = Math.sin(place)
    const c2 = c * c - s * s
    const s2 = 2 * s * c
    const c4 = c2 * c2 - s2 * s2
    const s4 = 2 * s2 * c2
    const torque = cos1 * c + sin1 * s + cos2 * c2 + sin2 * s2 + cos4 * c4 + sin4 * s4
    if (way === 0) way = torque > 0 ? 1 : -1
    const excess = way * torque - friction
    if (excess <= arrived) return place
    const slope = sin1 * c - cos1 * s + 2 * (sin2 * c2 - cos2 * s2) + 4 * (sin4 * c4 - cos4 * s4)
    const step = (2 * excess) / (Math.sqrt(slope * slope + 2 * bend * excess) - slope)
    const next = place + way * step
    if (next === place || bend * step * step < -ARRIVED * slope) return next
    place = next
  }
  return place
}
