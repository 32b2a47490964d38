import { MOST_TILT } from './lens.ts'
import { mean, rms } from '#core/numeric/moments'
import { bearing, type PlaneMap, toPlane, turnBetween, turnedAsSeen } from './plane-map.ts'
import type { Point } from './raster.ts'
import type { Surface } from './surface.ts'

/**
 * What the centre's doubt leaves in each mark's bearing, the turn that all of them share aside; rad.
 * A bearing changes by (sin θ, −cos θ)/r per unit that the centre moves.
 * @param points marks in the plane
 * @param covariance of the centre, plane units squared: [xx, xy, yy]
 */
export const centreDoubts = (points: readonly Point[], [cx, cy]: Point, [xx, xy, yy]: readonly [number, number, number]): number[] => {
  const slopes = points.map(([x, y]): Point => {
    const square = (x - cx) ** 2 + (y - cy) ** 2
    return [(y - cy) / square, -(x - cx) / square]
  })
  const mean = [0, 1].map((axis) => slopes.reduce((sum, slope) => sum + (slope[axis] as number), 0) / slopes.length) as [number, number]
  return slopes.map(([x, y]) => {
    const [dx, dy] = [x - mean[0], y - mean[1]]
    return Math.sqrt(Math.max(0, xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy))
  })
}

const DEG = 180 / Math.PI

/** A tilt t bends angles twice per turn by up to tan²(t/2) (universal-joint relation): rms over tilts of 0 … MOST_TILT, whose fourth power has a fifth of its greatest as mean, and over the turn. */
export const UNKNOWN_TILT_DEG = (DEG * Math.tan(MOST_TILT / 2) ** 2) / Math.sqrt(10)

const bearings = (points: readonly Point[], map: PlaneMap, centrePx: Point): number[] => {
  const centre = toPlane(map, centrePx)
  return points.map((p) => bearing(centre, toPlane(map, p)))
}

/** Change of each mark's bearing, the common turn aside, when the map is exchanged for another; deg. */
const changesBetween = (points: readonly Point[], centrePx: Point, map: PlaneMap, other: PlaneMap): number[] => {
  const here = bearings(points, map, centrePx)
  const there = bearings(points, turnedAsSeen(other, centrePx), centrePx)
  const off = here.map((angle, i) => turnBetween(there[i] as number, angle))
  const common = mean(off)
  return off.map((v) => DEG * (v - common))
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

/** Marks on a sheet that does not lie flat are displaced by this share of its edges' bow (simulated: sheets curled by up to 2 mm, seen from 0 to 25° aslant, lens and perspective fitted to their edges; 0.33 to 0.41, and as much again where edges happen to lie level). */
const OF_BOW = 0.5

/** What a sheet that does not lie flat leaves in each mark's bearing, deg. @param bowPx of its edges */
export const bowDoubts = (points: readonly Point[], [cx, cy]: Point, bowPx: number): number[] => points.map(([x, y]) => (DEG * OF_BOW * bowPx) / Math.hypot(x - cx, y - cy))

/** Marks about a shaft as they are known before the perspective is, px of the photo. */
export interface MarksSeen {
  readonly centrePx: Point
  /** Standard uncertainty of the centre, px. */
  readonly uCentrePx: number
  readonly strokes: readonly { readonly p0: Point; readonly p1: Point; readonly widthPx: number }[]
}

/** Middles of the strokes, px. */
const middlesOf = ({ strokes }: MarksSeen): Point[] => strokes.map(({ p0, p1 }) => [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2])

/** What a surface leaves in the marks' bearings, deg rms. */
export const doubtIn = (marks: MarksSeen, { map, alternatives }: Pick<Surface, 'map' | 'alternatives'>): number => mapDoubt(middlesOf(marks), marks.centrePx, map, alternatives)
