import { type PaperEdge, traceEdge } from '#core/detect/paper/edge'
import { fallAcross, isOneSided } from '#core/detect/paper/one-sided'
import type { Point, Raster } from '#core/detect/raster'

/** Share of the edge along which the other body's border must be seen. */
const LEAST_SUPPORT = 0.5
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
  return border.support >= LEAST_SUPPORT ? border : null
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
export const bodyBeside = (raster: Raster, points: readonly Point[], outward: Point, reach: { readonly inside: number; readonly outside: number }): boolean => {
  const end = borderBetween(raster, points, outward, [OWN_PX, reach.outside])
  if (end !== null) {
    const least = AS_PLAIN * (fallAcross(raster, { points, support: 1 }, outward) ?? 0)
    const isPlain = (fall: number | null): boolean => fall !== null && fall >= least
    if (isPlain(fallAcross(raster, end, outward)) && isPlain(fallAcross(raster, end, outward, meanGap(points, end.points, outward) / OF_GAP))) return true
  }
  const beginning = borderBetween(raster, points, back(outward), [OWN_PX, reach.inside])
  return beginning !== null && isOneSided(raster, beginning, back(outward))
}
