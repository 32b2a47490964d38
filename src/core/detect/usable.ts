import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import type { Point } from './raster.ts'

/** Signed distance of a point inside a convex polygon from its nearest side, px; negative outside. Corners clockwise as seen. */
export const depthInside = (polygon: readonly Point[], [x, y]: Point): number => {
  let least = Number.POSITIVE_INFINITY
  polygon.forEach(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length] as Point
    const length = Math.hypot(bx - ax, by - ay) || 1
    least = Math.min(least, ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length)
  })
  return least
}

/** Whether a mark may lie at a place: on the paper (null: not known), outside the regions to ignore. */
export const usablePlace = (paper: readonly Point[] | null, { ignorePx = [] }: Hints) => (place: Point): boolean => {
  const [x, y] = place
  const ignored = ignorePx.some((r) => x >= r.x && y >= r.y && x <= r.x + r.width && y <= r.y + r.height)
  return !ignored && (paper === null || depthInside(paper, place) > 2)
}

/**
 * The candidates a person's hints and the paper's outline leave: on the paper, outside the regions to ignore.
 * @param paper corners clockwise as seen, or null when it is not known
 */
export const usableCandidates = (candidates: readonly Candidate[], paper: readonly Point[] | null, hints: Hints): Candidate[] => {
  const usable = usablePlace(paper, hints)
  return candidates.filter((c) => usable(c.middle) && (paper === null || Math.min(depthInside(paper, c.p0), depthInside(paper, c.p1)) > 2 + 2 * c.widthPx))
}
