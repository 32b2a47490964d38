import { rms } from '#core/numeric/moments'
import { bearing, type PlaneMap, toPlane, turnBetween, turnedAsSeen } from './plane-map.ts'
import type { Point } from './raster.ts'

const DEG = 180 / Math.PI

const bearings = (points: readonly Point[], map: PlaneMap, centrePx: Point): number[] => {
  const centre = toPlane(map, centrePx)
  return points.map((p) => bearing(centre, toPlane(map, p)))
}

/** Change of each mark's bearing, the common turn aside, when the map is exchanged for another; deg. */
const changesBetween = (points: readonly Point[], centrePx: Point, map: PlaneMap, other: PlaneMap): number[] => {
  const here = bearings(points, map, centrePx)
  const there = bearings(points, turnedAsSeen(other, centrePx), centrePx)
  const off = here.map((angle, i) => turnBetween(there[i] as number, angle))
  const mean = off.reduce((sum, v) => sum + v, 0) / off.length
  return off.map((v) => DEG * (v - mean))
}

/**
 * What the doubt about the map from photo to paper leaves in each mark's bearing, deg.
 * @param points marks, px
 * @param alternatives the map moved by one standard deviation along each independent direction of its doubt
 */
export const mapDoubts = (points: readonly Point[], centrePx: Point, map: PlaneMap, alternatives: readonly PlaneMap[]): number[] => {
  const changes = alternatives.map((other) => changesBetween(points, centrePx, map, other))
  return points.map((_, i) => Math.hypot(...changes.map((each) => each[i] as number)))
}

/** The same as an rms over the marks. */
export const mapDoubt = (points: readonly Point[], centrePx: Point, map: PlaneMap, alternatives: readonly PlaneMap[]): number =>
  rms(mapDoubts(points, centrePx, map, alternatives))
