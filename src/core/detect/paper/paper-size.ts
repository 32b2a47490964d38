import { fitHomography, type Homography } from '#core/numeric/homography'
import type { Picture, Point } from '#core/detect/raster'
import { focalPx, lensCost, lensOf } from '#core/detect/lens'
import type { Quad } from './find-quad.ts'

/** Width × height in mm as the paper lies, with how it was told. */
export interface PaperChoice {
  readonly sizeMm: readonly [width: number, height: number]
  /** Ideal px → mm on the paper. */
  readonly homography: Homography
  /** How much worse the next size fits, in units of variance; below about 4 the choice is open. */
  readonly margin: number
  /** Ideal px → mm on a sheet of the next size; null when only one was tried. */
  readonly next: Homography | null
  /** How badly a phone would have to be built to see a sheet of this size so, in units of variance; below about 15 it is one. */
  readonly misfit: number
}

const A4: readonly [number, number] = [210, 297]
const LETTER: readonly [number, number] = [215.9, 279.4]

/** Sheets tried when none is named, mm: A4 (ISO 216) and US Letter. */
export const KNOWN_SHEETS: readonly (readonly [number, number])[] = [A4, LETTER]

/** Four corners whose shape fits the paper worse than this are something else's. */
export const MOST_MISFIT = 25

/** How closely corners and a centred principal point are believed to fix the two axes' ratio and angle. */
const SHAPE_SPREAD = 0.006

/** Corners of a sheet in mm, in the order of the quad's corners (clockwise as seen, y down). */
export const sheetCorners = ([w, h]: readonly [number, number]): readonly Point[] => [[0, 0], [w, 0], [w, h], [0, h]]

/**
 * How badly a camera with square pixels and a centred axis would have to be bent to see a sheet of this size so.
 * The sheet's two axes must be at right angles and of one scale (Zhang, IEEE PAMI 22 (2000) 1330, eqs 3 and 4), for some focal length.
 */
const misfit = (toPhoto: Homography, picture: Picture): number => {
  const [a, b, , d, e, , g, h] = toPhoto
  const cx = (picture.width - 1) / 2
  const cy = (picture.height - 1) / 2
  const lnFocal = Math.log(lensOf(picture).focal)
  const u = [a - cx * g, d - cy * g, g] as const
  const v = [b - cx * h, e - cy * h, h] as const
  let least = Number.POSITIVE_INFINITY
  for (let ln = -0.9; ln <= 1.3; ln += 0.05) {
    const f = focalPx(picture) * Math.exp(ln)
    const uu = (u[0] * u[0] + u[1] * u[1]) / (f * f) + u[2] * u[2]
    const vv = (v[0] * v[0] + v[1] * v[1]) / (f * f) + v[2] * v[2]
    const uv = (u[0] * v[0] + u[1] * v[1]) / (f * f) + u[2] * v[2]
    const skew = uv / Math.sqrt(uu * vv)
    const ratio = 0.5 * Math.log(uu / vv)
    least = Math.min(least, (skew * skew + ratio * ratio) / SHAPE_SPREAD ** 2 + lensCost(picture, lnFocal + ln))
  }
  return least
}

/**
 * Tells which known sheet, lying which way, the four corners belong to.
 * @param given the size when it is known, else A4 and US Letter are tried
 * @param asItLies true when the given width is that of the quad's first side
 * @returns null when the corners are degenerate
 */
export const choosePaper = (corners: Quad, picture: Picture, given?: readonly [number, number], asItLies = false): PaperChoice | null => {
  const sizes = given === undefined ? KNOWN_SHEETS : [given]
  const tried = sizes
    .flatMap(([w, h]) => (asItLies ? [[w, h] as const] : [[w, h] as const, [h, w] as const]))
    .map((sizeMm) => ({ sizeMm, toPhoto: fitHomography(sheetCorners(sizeMm), corners), toSheet: fitHomography(corners, sheetCorners(sizeMm)) }))
    .flatMap(({ sizeMm, toPhoto, toSheet }) => (toPhoto === null || toSheet === null ? [] : [{ sizeMm, homography: toSheet, cost: misfit(toPhoto, picture) }]))
    .sort((p, q) => p.cost - q.cost)
  const [best, second] = tried
  return best === undefined ? null : { sizeMm: best.sizeMm, homography: best.homography, next: second?.homography ?? null, misfit: best.cost, margin: (second?.cost ?? Number.POSITIVE_INFINITY) - best.cost }
}

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

/** A next size that fits worse by less than this, in units of variance, leaves the choice open. */
export const OPEN_MARGIN = 6
export const OPEN_SIZE = 'the paper could be A4 or US Letter by its shape in the photo; say which with --paper'

/** Worse than this, a sheet of another size seen by a usual lens is as likely as one of those sizes seen by an unusual one. */
const POOR_MISFIT = 9

const poorFit = (sizeMm: readonly number[]): string => `the paper was taken for one of ${sizeMm.join(' × ')} mm, which its shape in the photo fits poorly: say its size with --paper`

/**
 * What else a sheet may be whose size nobody said: the next known size where that fits nearly as well, the shape that the perspective
 * alone tells where the size that was chosen fits poorly.
 * @returns maps from ideal px to the sheet, none when the size is clear, and what is to be said
 */
export const otherSizes = (corners: Quad, { margin, misfit, next, sizeMm }: PaperChoice, picture: Picture): { readonly maps: readonly Homography[]; readonly doubts: readonly string[] } => {
  if (margin < OPEN_MARGIN) return { maps: next === null ? [] : [next], doubts: [OPEN_SIZE] }
  const guess = misfit > POOR_MISFIT ? guessShape(corners, picture) : null
  return guess === null ? { maps: [], doubts: [] } : { maps: [guess.choice.homography], doubts: [poorFit(sizeMm)] }
}
