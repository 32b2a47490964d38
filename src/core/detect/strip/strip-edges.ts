import { traceEdge } from '#core/detect/paper/edge'
import { isOneSided } from '#core/detect/paper/one-sided'
import type { Point, Raster } from '#core/detect/raster'

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

/**
 * Looks outward from the row of marks for the place where the bright strip ends, on both sides.
 * @returns null unless a straight fall in brightness runs along most of the row on both sides
 */
export const stripEdges = (raster: Raster, { from, to, halfPx }: SeenRow): StripEdges | null => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const found = [-1, 1].map((side) => {
    const outward: Point = [(-side * (to[1] - from[1])) / length, (side * (to[0] - from[0])) / length]
    const start = (1 + CLEAR) * halfPx
    const room = Math.min(roomTo(raster, from, outward), roomTo(raster, to, outward), roomTo(raster, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], outward)) - 2
    for (const reach of REACHES) {
      const far = Math.min(room, start + reach * halfPx)
      if (far < start + 6) continue
      const middle = (start + far) / 2
      const moved = ([x, y]: Point): Point => [x + middle * outward[0], y + middle * outward[1]]
      const edge = traceEdge(raster, [moved(from), moved(to)], outward, (far - start) / 2)
      if (edge.support >= LEAST_SUPPORT && edge.points.length >= 20 && isOneSided(raster, edge, outward)) return edge.points
      if (far === room) break
    }
    return null
  })
  const [above, below] = found
  return above && below ? [above, below] : null
}
