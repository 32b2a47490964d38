import type { Candidate } from '#core/detect/line/candidate'
import { bearing, type PlaneMap, toPlane, turnBetween } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'

/** A candidate seen from the centre, in the plane of the paper. */
export interface Ray {
  readonly candidate: Candidate
  /** rad, counter-clockwise as seen. */
  readonly bearing: number
  /** Distances of its two ends from the centre, plane units. */
  readonly inner: number
  readonly outer: number
  /** Angle between the stroke and the direction from the centre, rad, signed. */
  readonly lean: number
  readonly width: number
}

/** Sees a candidate from the centre (plane coordinates). */
export const rayOf = (candidate: Candidate, map: PlaneMap, centre: Point): Ray => {
  const a = toPlane(map, candidate.p0)
  const b = toPlane(map, candidate.p1)
  const ra = Math.hypot(a[0] - centre[0], a[1] - centre[1])
  const rb = Math.hypot(b[0] - centre[0], b[1] - centre[1])
  const [near, far] = rb >= ra ? [a, b] : [b, a]
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
  const towards = bearing(centre, middle)
  const direction = bearing(near, far)
  const length = Math.hypot(far[0] - near[0], far[1] - near[1])
  return {
    candidate,
    bearing: towards,
    inner: Math.min(ra, rb),
    outer: Math.max(ra, rb),
    lean: turnBetween(direction, towards),
    width: (candidate.widthPx * length) / candidate.lengthPx,
  }
}
