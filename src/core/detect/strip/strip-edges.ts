import { type PaperEdge, traceEdge } from '#core/detect/paper/edge'
import { fallAcross, isOneSided } from '#core/detect/paper/one-sided'
import type { Point, Raster } from '#core/detect/raster'

/** Share of the edge along which the other body's border must be seen. */
const LEAST_BORDER = 0.5
/** An edge’s own blur and the halo a camera's sharpening leaves, px. */
const OWN_PX = 5

/** Looking at every twentieth of the way between both edges shows what lies between them from 15 to 65 % of it. */
const OF_GAP = 20

/** A body's end is at least this share as plain as the strip's: boards of about the same brightness meet in a joint. */
const AS_PLAIN = 0.12

const back = ([x, y]: Point): Point => [-x, -y]

/** The straight fall in brightness, looking along `outward`, `near` to `far` px from an edge. */
const borderBetween = (raster: Raster, points: readonly Point[], outward: Point, [near, far]: readonly [number, number]): PaperEdge | null => {
  if (far < near + 4) return null
  const moved = ([x, y]: Point): Point => [x + ((near + far) / 2) * outward[0], y + ((near + far) / 2) * outward[1]]
  const border = traceEdge(raster, [moved(points[0] as Point), moved(points[points.length - 1] as Point)], outward, { reach: (far - near) / 2 })
  return border.support >= LEAST_BORDER ? border : null
}

const meanGap = (a: readonly Point[], b: readonly Point[], [ox, oy]: Point): number => {
  const height = (points: readonly Point[]): number => points.reduce((sum, [x, y]) => sum + (x * ox + y * oy) / points.length, 0)
  return Math.abs(height(a) - height(b))
}

/**
 * Does another straight body, such as a ruler, lie along what looks like a strip's long edge? Then there is either a second end of
 * something bright outside it, all of it brighter than what lies beyond (a joint between dark bricks is not), or the beginning of
 * something bright inside it; and the edge may be the body's.
 * @param points of the edge, in order
 * @param reach how far to look inside and outside of the edge, px
 */
const bodyBeside = (raster: Raster, points: readonly Point[], outward: Point, reach: { readonly inside: number; readonly outside: number }): boolean => {
  const end = borderBetween(raster, points, outward, [OWN_PX, reach.outside])
  if (end !== null) {
    const least = AS_PLAIN * (fallAcross(raster, { points, support: 1 }, outward) ?? 0)
    const isPlain = (fall: number | null): boolean => fall !== null && fall >= least
    if (isPlain(fallAcross(raster, end, outward)) && isPlain(fallAcross(raster, end, outward, meanGap(points, end.points, outward) / OF_GAP))) return true
  }
  const beginning = borderBetween(raster, points, back(outward), [OWN_PX, reach.inside])
  return beginning !== null && isOneSided(raster, beginning, back(outward))
}

/** The strip's two long edges as seen: places on each, px, in order along the row. */
export type StripEdges = readonly [above: readonly Point[], below: readonly Point[]]

/** Share of the places looked at where the edge must be. */
const LEAST_SUPPORT = 0.7
/** Share of a mark's length kept clear of the marks' ends. */
const CLEAR = 0.15

/** How far beyond the marks an edge is looked for, in half lengths of a mark: near first, as a rough wall drowns it in a wide view. */
const REACHES = [4, 12, Number.POSITIVE_INFINITY] as const

/** How far a point may go in a direction before it leaves the picture. */
const roomTo = ({ width, height }: Raster, [x, y]: Point, [dx, dy]: Point): number => {
  const wall = (at: number, d: number, size: number): number => (d > 1e-9 ? (size - 1 - at) / d : d < -1e-9 ? -at / d : Number.POSITIVE_INFINITY)
  return Math.max(0, Math.min(wall(x, dx, width), wall(y, dy, height)))
}

/** The row as seen: its two ends, the direction across, and half the height of the marks, px. */
export interface SeenRow {
  readonly from: Point
  readonly to: Point
  readonly halfPx: number
}

/** Looks from the row outward for the place where the bright strip ends; null unless a straight fall in brightness runs along most of the row. */
const edgeOutward = (raster: Raster, { from, to, halfPx }: SeenRow, outward: Point): readonly Point[] | null => {
  const start = (1 + CLEAR) * halfPx
  const room = Math.min(roomTo(raster, from, outward), roomTo(raster, to, outward), roomTo(raster, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], outward)) - 2
  for (const reach of REACHES) {
    const far = Math.min(room, start + reach * halfPx)
    if (far < start + 6) continue
    const middle = (start + far) / 2
    const moved = ([x, y]: Point): Point => [x + middle * outward[0], y + middle * outward[1]]
    const edge = traceEdge(raster, [moved(from), moved(to)], outward, { reach: (far - start) / 2 })
    if (edge.support >= LEAST_SUPPORT && edge.points.length >= 20 && isOneSided(raster, edge, outward)) return edge.points
    if (far === room) break
  }
  return null
}

/**
 * Looks outward from the row of marks for the place where the bright strip ends, on both sides.
 * @returns null unless both are seen; 'covered' where another straight body lies along one of them, which may be its edge then
 */
export const stripEdges = (raster: Raster, row: SeenRow): StripEdges | 'covered' | null => {
  const { from, to, halfPx } = row
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const outward: Point = [(from[1] - to[1]) / length, (to[0] - from[0]) / length]
  const inward: Point = [-outward[0], -outward[1]]
  const above = edgeOutward(raster, row, inward)
  const below = above && edgeOutward(raster, row, outward)
  if (above === null || below === null) return null
  const fromRow = (points: readonly Point[]): number => Math.abs(points.reduce((sum, [x, y]) => sum + ((x - from[0]) * outward[0] + (y - from[1]) * outward[1]) / points.length, 0))
  const [up, down] = [fromRow(above), fromRow(below)]
  const covered = (points: readonly Point[], out: Point, height: number): boolean => bodyBeside(raster, points, out, { inside: height - (1 + CLEAR) * halfPx, outside: up + down })
  return covered(above, inward, up) || covered(below, outward, down) ? 'covered' : [above, below]
}
