import { applyHomography, type Homography, invertHomography } from '#core/numeric/homography'
import type { Point } from './raster.ts'

/** One term of lens distortion: seen = centre + (ideal − centre)·(1 + k·ρ²), ρ = |ideal − centre| / scalePx. */
export interface Radial {
  readonly k: number
  readonly centrePx: Point
  readonly scalePx: number
}

/** From the photo to the plane of the paper. Plane: x right, y down, as nearly as can be the way the photo shows it. */
export interface PlaneMap {
  /** Ideal (undistorted) px → plane units. */
  readonly homography: Homography
  readonly inverse: Homography
  readonly radial: Radial | null
}

export const radialAbout = (width: number, height: number, k: number): Radial => ({
  k,
  centrePx: [(width - 1) / 2, (height - 1) / 2],
  scalePx: Math.hypot(width, height) / 2,
})

/** Takes the lens distortion out of a point of the photo; Newton's steps, good to 1e-9 px for |k| < 0.2 in the picture. */
export const straighten = (radial: Radial | null, [x, y]: Point): Point => {
  if (radial === null || radial.k === 0) return [x, y]
  const dx = (x - radial.centrePx[0]) / radial.scalePx
  const dy = (y - radial.centrePx[1]) / radial.scalePx
  const seen = Math.hypot(dx, dy)
  let ideal = seen
  for (let i = 0; i < 5; i++) ideal -= (ideal * (1 + radial.k * ideal * ideal) - seen) / (1 + 3 * radial.k * ideal * ideal)
  const scale = seen === 0 ? 1 : ideal / seen
  return [radial.centrePx[0] + dx * scale * radial.scalePx, radial.centrePx[1] + dy * scale * radial.scalePx]
}

/** How the straightened place moves as the lens's term k grows, as a share of its way from the lens's middle. @param square of that way, in units of the lens's scale */
export const lensSlope = (k: number, square: number): number => -square / (1 + 3 * k * square)

/** Puts the lens distortion back. */
export const bend = (radial: Radial | null, [x, y]: Point): Point => {
  if (radial === null) return [x, y]
  const dx = x - radial.centrePx[0]
  const dy = y - radial.centrePx[1]
  const scale = 1 + (radial.k * (dx * dx + dy * dy)) / radial.scalePx ** 2
  return [radial.centrePx[0] + dx * scale, radial.centrePx[1] + dy * scale]
}

export const planeMap = (homography: Homography, radial: Radial | null = null): PlaneMap => ({ homography, inverse: invertHomography(homography), radial })

/** The photo itself as the plane, px. */
export const photoPlane: PlaneMap = planeMap([1, 0, 0, 0, 1, 0, 0, 0, 1])

export const toPlane = (map: PlaneMap, point: Point): Point => applyHomography(map.homography, straighten(map.radial, point))

export const toPhoto = (map: PlaneMap, point: Point): Point => bend(map.radial, applyHomography(map.inverse, point))

/** How the plane moves with the photo at a point: [∂X/∂x, ∂X/∂y, ∂Y/∂x, ∂Y/∂y], by differences of half a px. */
export const jacobianAt = (map: PlaneMap, [x, y]: Point): readonly [number, number, number, number] => {
  const [ax, ay] = toPlane(map, [x + 0.5, y])
  const [bx, by] = toPlane(map, [x - 0.5, y])
  const [cx, cy] = toPlane(map, [x, y + 0.5])
  const [dx, dy] = toPlane(map, [x, y - 0.5])
  return [ax - bx, cx - dx, ay - by, cy - dy]
}

/** Px of the photo per unit of the plane at a point of the photo, the geometric mean over directions. */
export const pxPerUnitAt = (map: PlaneMap, px: Point): number => {
  const [a, b, c, d] = jacobianAt(map, px)
  return 1 / Math.sqrt(Math.abs(a * d - b * c))
}

/** The same map, the plane turned so that at `at` (px) the photo is stretched but not turned: angles then read as seen. */
export const turnedAsSeen = (map: PlaneMap, at: Point): PlaneMap => {
  const [a, b, c, d] = jacobianAt(map, at)
  const turn = Math.atan2(b - c, a + d)
  const cos = Math.cos(turn)
  const sin = Math.sin(turn)
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = map.homography
  const turned: Homography = [cos * m0 - sin * m3, cos * m1 - sin * m4, cos * m2 - sin * m5, sin * m0 + cos * m3, sin * m1 + cos * m4, sin * m2 + cos * m5, m6, m7, m8]
  return planeMap(turned, map.radial)
}

/** Bearing of a point about a centre, both in the plane: rad, counter-clockwise as seen, −π … π. */
export const bearing = ([cx, cy]: Point, [x, y]: Point): number => Math.atan2(cy - y, x - cx)

const TURN = 2 * Math.PI

/** The same bearing counted from 0 on: rad, 0 … 2π. */
export const turned = (angle: number): number => ((angle % TURN) + TURN) % TURN

/** From bearing `b` to bearing `a` the short way: rad, −π … π. */
export const turnBetween = (a: number, b: number): number => Math.atan2(Math.sin(a - b), Math.cos(a - b))
