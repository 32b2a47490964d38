import { bearing, type PlaneMap, toPlane, turnBetween, turnedAsSeen } from './plane-map.ts'
import type { Point } from './raster.ts'

const DEG = 180 / Math.PI

const bearings = (points: readonly Point[], map: PlaneMap, centrePx: Point): number[] => {
  const centre = toPlane(map, centrePx)
  return points.map((p) => bearing(centre, toPlane(map, p)))
}

/** rms change of the marks' bearings, their common turn aside, when the map is exchanged for another; deg. */
const changeBetween = (points: readonly Point[], centrePx: Point, map: PlaneMap, other: PlaneMap): number => {
  const here = bearings(points, map, centrePx)
  const there = bearings(points, turnedAsSeen(other, centrePx), centrePx)
  const off = here.map((angle, i) => turnBetween(there[i] as number, angle))
  const mean = off.reduce((sum, v) => sum + v, 0) / off.length
  return DEG * Math.sqrt(off.reduce((sum, v) => sum + (v - mean) ** 2, 0) / off.length)
}

/**
 * What the doubt about the map from photo to paper leaves in the marks' bearings, deg rms.
 * @param points marks, px
 * @param alternatives the map moved by one standard deviation along each independent direction of its doubt
 */
export const mapDoubt = (points: readonly Point[], centrePx: Point, map: PlaneMap, alternatives: readonly PlaneMap[]): number =>
  Math.sqrt(alternatives.reduce((sum, other) => sum + changeBetween(points, centrePx, map, other) ** 2, 0))
