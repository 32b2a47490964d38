import type { Point, Raster } from '#core/detect/raster'
import { type CameraFit, fitCamera } from './camera-fit.ts'
import type { SidePoints } from './start-camera.ts'
import { type PaperEdge, traceEdge } from './edge.ts'
import { outwardOf } from './find-quad.ts'
import { cutLevels, reducePhoto, type SmallPicture } from './small-picture.ts'
import { isOneSided } from './one-sided.ts'
import { toFullResolution } from '#core/detect/plane'
import { brightOutlines } from './outline.ts'

/** One straight side of the paper, as far as it is in the picture; clockwise as seen. */
type Side = readonly [from: Point, to: Point]

/** Least length of a side, as a share of the picture's shorter side. */
const LEAST_SIDE = 0.14
const STRAIGHT_PX = 1.4
const SAME_SIDE = 0.09
const FRAME_PX = 2.5

const farFrom = ([ax, ay]: Point, [bx, by]: Point, [x, y]: Point): number =>
  Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / (Math.hypot(bx - ax, by - ay) || 1)

/** Corners of a chain that stays within STRAIGHT_PX of them (Douglas & Peucker 1973), the last one left out. */
const simplify = (chain: readonly Point[]): Point[] => {
  const [from, to] = [chain[0] as Point, chain[chain.length - 1] as Point]
  let far = 0
  let most = STRAIGHT_PX
  for (let i = 1; i < chain.length - 1; i++) {
    const d = farFrom(from, to, chain[i] as Point)
    if (d > most) {
      most = d
      far = i
    }
  }
  return far === 0 ? [from] : [...simplify(chain.slice(0, far + 1)), ...simplify(chain.slice(far))]
}

const cornersOf = (hull: readonly Point[]): Point[] => {
  const first = hull[0] as Point
  const far = hull.reduce((best, p, i) => (Math.hypot(p[0] - first[0], p[1] - first[1]) > Math.hypot((hull[best] as Point)[0] - first[0], (hull[best] as Point)[1] - first[1]) ? i : best), 0)
  return far === 0 ? [] : [...simplify(hull.slice(0, far + 1)), ...simplify([...hull.slice(far), first])]
}

const directionOf = ([a, b]: Side): number => Math.atan2(b[1] - a[1], b[0] - a[0])

const lengthOf = ([a, b]: Side): number => Math.hypot(b[0] - a[0], b[1] - a[1])

const onFrame = ([a, b]: Side, { columns, rows }: SmallPicture): boolean =>
  [0, 1].some((axis) => [-0.5, (axis === 0 ? columns : rows) - 0.5].some((edge) => [a, b].every((p) => Math.abs((p[axis] as number) - edge) < FRAME_PX)))

/** Joins neighbours that go on in nearly the same direction. */
const joined = (sides: readonly Side[]): Side[] => {
  const out: Side[] = []
  for (const side of sides) {
    const last = out[out.length - 1]
    const turn = last === undefined ? Math.PI : Math.abs(Math.sin(directionOf(side) - directionOf(last)))
    if (last !== undefined && turn < SAME_SIDE && lengthOf([last[1], side[0]]) < FRAME_PX) out[out.length - 1] = [last[0], side[1]]
    else out.push(side)
  }
  return out
}

/** The long straight sides make up this share of an outline that does not run along the picture's border; of a round thing's, chords are what is left. */
const LEAST_STRAIGHT = 0.7

const totalOf = (sides: readonly Side[]): number => sides.reduce((sum, side) => sum + lengthOf(side), 0)

/** The long straight sides of an outline that do not run along the picture's own border, in px of the full photo; none of something round. */
const sidesOf = (hull: readonly Point[], small: SmallPicture): Side[] => {
  const corners = cornersOf(hull)
  const least = LEAST_SIDE * Math.min(small.columns, small.rows)
  const all = joined(corners.map((c, i): Side => [c, corners[(i + 1) % corners.length] as Point]))
  const inside = all.filter((side) => !onFrame(side, small))
  const long = inside.filter((side) => lengthOf(side) > least)
  return totalOf(long) < LEAST_STRAIGHT * totalOf(inside) ? [] : long.map(([a, b]): Side => [toFullResolution(small, a), toFullResolution(small, b)])
}

/** At every brightness level, the paper-like regions' three or four sides that are at least partly in view. */
export const partialOutlines = (small: SmallPicture, levels: readonly number[], leastArea: number): Side[][] => {
  const found: Side[][] = []
  for (const level of levels) {
    for (const { hull, solidity } of brightOutlines(small.grey, [small.columns, small.rows], level, leastArea)) {
      if (solidity < 0.75) continue
      const sides = sidesOf(hull, small)
      if (sides.length !== 3 && sides.length !== 4) continue
      const near = (other: readonly Side[]): boolean =>
        other.length === sides.length && sides.every((s) => other.some((o) => s.every((p, i) => Math.hypot(p[0] - (o[i] as Point)[0], p[1] - (o[i] as Point)[1]) < 2.5 * small.factor)))
      if (!found.some(near)) found.push(sides)
    }
  }
  return found
}

type Size = readonly [width: number, height: number]

/** A sheet whose sides are seen at least in part. */
export interface PartialPaper {
  readonly fit: CameraFit
  readonly sizeMm: Size
  /** The next best size when it is nearly as good. */
  readonly other: CameraFit | null
  /** True when all four sides were seen, and so its size could be told. */
  readonly whole: boolean
}

/** A sheet that reaches out of the picture fills at least this share of it; what is smaller is a label or a corner of another one. */
const LEAST_AREA = 0.15
const LEAST_SUPPORT = 0.5
/** More than this in units of variance, and no usual camera sees a sheet so. */
const MOST_COST = 14
/** Edges of a flat sheet are straight to this share of the picture's longer side. */
const MOST_RESIDUAL = 0.0012
const OPEN = 6

const ends = ({ points }: PaperEdge): Side | null => (points.length < 12 ? null : [points[0] as Point, points[points.length - 1] as Point])

/** The side traced twice, coarsely and finely; null when it is not an edge with paper on one side only. */
const traced = (raster: Raster, side: Side): readonly Point[] | null => {
  const long = Math.max(raster.width, raster.height)
  const rough = ends(traceEdge(raster, side, outwardOf(side), { reach: 0.012 * long }))
  if (rough === null) return null
  const fine = traceEdge(raster, rough, outwardOf(rough), { reach: 0.004 * long + 4 })
  return fine.support >= LEAST_SUPPORT && fine.points.length >= 20 && isOneSided(raster, fine, outwardOf(rough)) ? fine.points : null
}

/** Three sides in the order 3, 0, 1: the middle one is that whose neighbours are most nearly parallel. */
const inOrder = (sides: readonly Side[]): readonly Side[] => {
  if (sides.length !== 3) return sides
  const turn = (k: number): number => Math.abs(Math.sin(directionOf(sides[(k + 2) % 3] as Side) - directionOf(sides[(k + 1) % 3] as Side)))
  const middle = [0, 1, 2].reduce((best, k) => (turn(k) < turn(best) ? k : best), 0)
  return [2, 0, 1].map((k) => sides[(middle + k) % 3] as Side)
}

const SIDES = [3, 0, 1, 2] as const

/** Does each side meet the next at an angle that corners of a tilted sheet can have? */
const turnsLikeASheet = (sides: readonly Side[]): boolean =>
  sides.slice(1).every((side, i) => Math.sin(directionOf(side) - directionOf(sides[i] as Side)) > 0.5)

const readSides = (raster: Raster, sides: readonly Side[], sizes: readonly Size[]): PartialPaper | null => {
  const ordered = inOrder(sides)
  if (!turnsLikeASheet(ordered)) return null
  const points = ordered.map((side) => traced(raster, side))
  if (points.some((p) => p === null)) return null
  const seen = points.map((p, i): SidePoints => ({ side: SIDES[i] as SidePoints['side'], points: p ?? [] }))
  const whole = seen.length === 4
  const tried = (whole ? sizes.flatMap(([w, h]): Size[] => [[w, h], [h, w]]) : sizes.slice(0, 1))
    .flatMap((sizeMm) => {
      const fit = fitCamera(seen, sizeMm, raster)
      return fit === null || fit.residualPx > MOST_RESIDUAL * Math.max(raster.width, raster.height) ? [] : [{ sizeMm, fit }]
    })
    .sort((a, b) => a.fit.cost - b.fit.cost)
  const [best, second] = tried
  if (best === undefined || best.fit.cost > MOST_COST) return null
  return { ...best, whole, other: second !== undefined && second.fit.cost - best.fit.cost < OPEN ? second.fit : null }
}

const visible = (sides: readonly Side[]): number => sides.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0)

/**
 * A sheet that reaches out of the picture, from the three or four sides that are partly in view: a camera with its own or a usual lens is
 * fitted to them, so that corners need not be seen.
 * @param sizes sheets to try, mm
 */
export const findPartialPaper = (raster: Raster, sizes: readonly Size[]): PartialPaper | null => {
  const small = reducePhoto(raster)
  const outlines = partialOutlines(small, cutLevels(small.grey), LEAST_AREA * small.grey.length).sort((a, b) => b.length - a.length || visible(b) - visible(a))
  for (const sides of outlines.slice(0, 8)) {
    const paper = readSides(raster, sides, sizes)
    if (paper !== null) return paper
  }
  return null
}
