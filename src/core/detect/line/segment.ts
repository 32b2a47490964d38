import type { Point } from '#core/detect/raster'
import type { RidgePoints } from './ridge.ts'

/** A straight piece of a line in px of the plane. */
export interface Segment {
  /** Ridge points it was made from. */
  readonly points: Int32Array
  readonly p0: Point
  readonly p1: Point
  readonly length: number
  /** Unit vector from p0 to p1. */
  readonly along: Point
  readonly middle: Point
  /** rms distance of its points from the line. */
  readonly rms: number
  /** Length of the longest unbroken line it came from, in ridge points. */
  readonly lineLength: number
}

/**
 * Straight line through ridge points by orthogonal regression, cut at the outermost points.
 * @returns null when the points coincide
 */
export const segmentFrom = (ridge: RidgePoints, points: Int32Array, lineLength: number): Segment | null => {
  let mx = 0
  let my = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    mx += ridge.x[i] as number
    my += ridge.y[i] as number
  }
  mx /= points.length
  my /= points.length
  let xx = 0
  let xy = 0
  let yy = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    const dx = (ridge.x[i] as number) - mx
    const dy = (ridge.y[i] as number) - my
    xx += dx * dx
    xy += dx * dy
    yy += dy * dy
  }
  if (!(xx + yy > 0)) return null
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy)
  const ux = Math.cos(angle)
  const uy = Math.sin(angle)
  let low = 0
  let high = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    const t = ((ridge.x[i] as number) - mx) * ux + ((ridge.y[i] as number) - my) * uy
    low = Math.min(low, t)
    high = Math.max(high, t)
  }
  const across = Math.max(0, xx * uy * uy - 2 * xy * ux * uy + yy * ux * ux)
  return {
    points,
    p0: [mx + low * ux, my + low * uy],
    p1: [mx + high * ux, my + high * uy],
    length: high - low,
    along: [ux, uy],
    middle: [mx + ((low + high) / 2) * ux, my + ((low + high) / 2) * uy],
    rms: Math.sqrt(across / points.length),
    lineLength,
  }
}
