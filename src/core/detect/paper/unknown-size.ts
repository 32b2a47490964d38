import type { Picture, Point } from '#core/detect/raster'
import type { Quad } from './find-quad.ts'
import { choosePaper, type PaperChoice } from './paper-size.ts'

/** Proportions told from the perspective alone. */
export interface GuessedShape {
  /** Sides in an arbitrary unit near px of the photo. */
  readonly choice: PaperChoice
  /** The same sheet, its proportions changed by their standard uncertainty. */
  readonly other: PaperChoice | null
}

const FINEST = 0.002

const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])

/**
 * Shape of a sheet of unknown size: the ratio of its sides for which a camera with square pixels and its own or a usual focal length would
 * see these corners. Exact for any lens when the sheet is square on; the doubt grows with tilt.
 * @returns null when the corners are degenerate
 */
export const guessShape = (corners: Quad, picture: Picture): GuessedShape | null => {
  const [p, q, r, t] = corners
  const width = (distance(p, q) + distance(r, t)) / 2
  const height = (distance(q, r) + distance(t, p)) / 2
  const at = (ln: number): PaperChoice | null => choosePaper(corners, picture, [width * Math.exp(ln / 2), height * Math.exp(-ln / 2)], true)
  let best = 0
  for (let step = 0.1; step >= FINEST; step /= 2.5) {
    const tries = [-3, -2, -1, 0, 1, 2, 3].map((k) => best + k * step).map((ln) => ({ ln, cost: at(ln)?.misfit ?? Number.POSITIVE_INFINITY }))
    best = tries.reduce((a, b) => (b.cost < a.cost ? b : a)).ln
  }
  const choice = at(best)
  if (choice === null) return null
  let spread = FINEST
  while (spread < 0.3 && (at(best + spread)?.misfit ?? 0) < choice.misfit + 1) spread *= 1.3
  return { choice, other: at(best + spread) }
}
