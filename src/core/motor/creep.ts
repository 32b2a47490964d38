import type { TorqueCurve } from './torque-curve.ts'
import { torqueAt, torqueBendBound, torqueSlopeAt } from './torque-curve.ts'

/** Torque below which the shaft counts as having arrived, in units of holding torque. */
const ARRIVED = 1e-13
/** Farther than this the shaft never stops: one whole electrical cycle was passed without a resting place. */
const CYCLE = 2 * Math.PI

/**
 * Where the shaft comes to rest from x (rad): x itself while |T(x)| ≤ friction, else the first place along the way the
 * torque pushes at which |T| has fallen to the friction.
 *
 * With g = |T| − f and M a bound of |T''|, no root lies nearer than h = 2g / (√(g'² + 2Mg) − g'); steps of that length
 * never leap over a resting place however narrow, and near one they shrink as Newton's do. Good to about 1e-12 rad, worse
 * (1e-7) only where the torque merely touches the friction. A motor whose torque nowhere falls to the friction turns one
 * cycle and is left there.
 */
export const creep = (curve: TorqueCurve, x: number, friction: number): number => {
  const torque = torqueAt(curve, x)
  if (Math.abs(torque) <= friction + ARRIVED) return x
  const way = torque > 0 ? 1 : -1
  const bend = torqueBendBound(curve)
  let place = x
  let excess = Math.abs(torque) - friction
  while (excess > ARRIVED && Math.abs(place - x) < CYCLE) {
    const slope = torqueSlopeAt(curve, place)
    const root = Math.sqrt(slope * slope + 2 * bend * excess)
    place += (way * 2 * excess) / (root - slope)
    excess = way * torqueAt(curve, place) - friction
  }
  return place
}
