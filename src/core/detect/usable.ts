import { barePaper } from '#core/detect/sheet/bare-paper'
import type { Candidate } from '#core/detect/line/candidate'
import type { Hints } from './detection.ts'
import type { Point } from './raster.ts'
import type { Surface } from './surface.ts'

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

/** Where a mark may be. */
type Paper = Pick<Surface, 'outline' | 'sheet'>

/** Whether a mark may lie at a place: on the paper (where that is known), off its printed targets and code, outside the regions to ignore. */
export const usablePlace = ({ outline, sheet }: Paper, { ignorePx = [] }: Hints): ((place: Point) => boolean) => {
  const bare = sheet === null ? () => true : barePaper(sheet)
  return (place) => {
    const [x, y] = place
    const ignored = ignorePx.some((r) => x >= r.x && y >= r.y && x <= r.x + r.width && y <= r.y + r.height)
    return !ignored && (outline === null || depthInside(outline, place) > 2) && bare(place)
  }
}

/** The candidates a person's hints and the paper leave: on it with both ends, off its print, outside the regions to ignore. */
export const usableCandidates = (candidates: readonly Candidate[], paper: Paper, hints: Hints): Candidate[] => {
  const { outline } = paper
  const usable = usablePlace(paper, hints)
  return candidates.filter((c) => usable(c.middle) && (outline === null || Math.min(depthInside(outline, c.p0), depthInside(outline, c.p1)) > 2 + 2 * c.widthPx))
}
