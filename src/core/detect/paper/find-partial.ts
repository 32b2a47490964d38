import type { Point, Raster } from '#core/detect/raster'
import { fitCamera, type CameraFit, type SidePoints } from './camera-fit.ts'
import { type PaperEdge, traceEdge } from './edge.ts'
import { cutLevels, outwardOf, reducePhoto } from './find-quad.ts'
import { isOneSided } from './one-sided.ts'
import { directionOf, partialOutlines, type Side } from './side-lines.ts'

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
