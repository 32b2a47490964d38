import type { Candidate } from '#core/detect/line/candidate'
import type { Point } from '#core/detect/raster'

/** A thin straight line from one place to another, px, as the search would see it: 3 px wide, of one darkness, on even paper. */
export const lineBetween = (p0: Point, p1: Point): Candidate => {
  const lengthPx = Math.hypot(p1[0] - p0[0], p1[1] - p0[1])
  const along: Point = [(p1[0] - p0[0]) / lengthPx, (p1[1] - p0[1]) / lengthPx]
  return { p0, p1, middle: [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2], along, lengthPx, widthPx: 3, depth: 0.5, beside: 5, step: 0, share: 1 }
}
