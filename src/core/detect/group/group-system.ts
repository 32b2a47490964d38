import { greyLeft, steepness } from './ink-law.ts'
import { inkProfile } from '#core/detect/stroke/stroke-model'
import { quickBell } from '#core/numeric/error-function'
import type { GroupPixels, GroupStroke, Pen } from './stroke-group.ts'

/** Strokes of a group while they are fitted; `ground` is the paper: level, slope aside, slope outward. */
export interface GroupState {
  readonly ground: number[]
  readonly strokes: readonly GroupStroke[]
}

/** Parameters in order: ground ×3, then for each stroke offset, lean and its amplitudes. */
export const GROUND = 3
export const strokePlace = (stroke: number, knots: number): number => GROUND + stroke * (2 + knots)

export interface GroupSystem {
  readonly size: number
  /** Lower triangle of the normal matrix, row after row, `size` to a row. */
  readonly lower: Float64Array
  readonly right: Float64Array
  readonly residuals: Float64Array
  /** Sum of weight × residual² and of the weights. */
  readonly sum: number
  readonly weight: number
}

/** Strokes in flat arrays, for the inner loop. */
interface Flat {
  readonly count: number
  readonly knots: number
  readonly offsets: Float64Array
  readonly leans: Float64Array
  readonly darkness: Float64Array
}

const flatten = (strokes: readonly GroupStroke[]): Flat => ({
  count: strokes.length,
  knots: strokes[0]?.amplitudes.length ?? 2,
  offsets: Float64Array.from(strokes, (stroke) => stroke.offset),
  leans: Float64Array.from(strokes, (stroke) => stroke.lean),
  darkness: Float64Array.from(strokes.flatMap((stroke) => stroke.amplitudes)),
})

/** One pixel's row of the design matrix, only the places it touches, and the ink there. */
interface Row {
  readonly places: Int32Array
  readonly slopes: Float64Array
  touched: number
  ink: number
}

const put = (row: Row, place: number, slope: number): void => {
  row.places[row.touched] = place
  row.slopes[row.touched++] = slope
}

/** The grey level of a pixel; its row's slopes, of the light left by the ink until then, become those of that level. */
const toGrey = (row: Row, s: number, tau: number, ground: number): number => {
  const left = greyLeft(row.ink)
  const slope = ground * steepness(row.ink, left)
  for (let m = GROUND; m < row.touched; m++) row.slopes[m] = slope * (row.slopes[m] as number)
  row.slopes[0] = left
  row.slopes[1] = left * s
  row.slopes[2] = left * tau
  return ground * left
}

/** Blurs beyond a stroke's edge up to which its ink counts, and up to which it tells of the stroke: there its slope is a hundredth of the greatest. */
const INK_REACH = 4
const TELLING_REACH = 3

const fillRow = (row: Row, tau: number, s: number, flat: Flat, pen: Pen): void => {
  const { knots } = flat
  const place = Math.max(0, Math.min(knots - 1, ((tau + 1) / 2) * (knots - 1)))
  const knot = Math.min(knots - 2, Math.floor(place))
  const f = place - knot
  const far = pen.halfWidth + INK_REACH * pen.sigma
  const telling = pen.halfWidth + TELLING_REACH * pen.sigma
  row.ink = 0
  row.touched = GROUND
  for (let j = 0; j < flat.count; j++) {
    const d = s - (flat.offsets[j] as number) - (flat.leans[j] as number) * tau
    if (d > far || d < -far) continue
    const p = inkProfile(d, pen.halfWidth, pen.sigma)
    const at = j * knots + knot
    const a = (flat.darkness[at] as number) * (1 - f) + (flat.darkness[at + 1] as number) * f
    row.ink += a * p
    if (d > telling || d < -telling) continue
    const slope = (a * (quickBell((d + pen.halfWidth) / pen.sigma) - quickBell((d - pen.halfWidth) / pen.sigma))) / pen.sigma
    const base = strokePlace(j, knots)
    put(row, base, slope)
    put(row, base + 1, slope * tau)
    put(row, base + 2 + knot, -p * (1 - f))
    put(row, base + 3 + knot, -p * f)
  }
}

/** Adds a weighted row's products to the normal equations; places ascend, so only the lower triangle is met. */
const addRow = ({ places, slopes, touched }: Row, [w, residual]: readonly [number, number], lower: Float64Array, right: Float64Array): void => {
  const size = right.length
  for (let m = 0; m < touched; m++) {
    const place = places[m] as number
    const wm = w * (slopes[m] as number)
    right[place] = (right[place] as number) + wm * residual
    for (let n = 0; n <= m; n++) {
      const cell = place * size + (places[n] as number)
      lower[cell] = (lower[cell] as number) + wm * (slopes[n] as number)
    }
  }
}

/**
 * Residuals and normal equations of strokes side by side, all of one pen, in one pass over the pixels; knots ≥ 2.
 * Tukey's weights: a residual beyond `cut` (grey levels) counts for nothing.
 */
export const groupSystem = (pixels: GroupPixels, { ground, strokes }: GroupState, pen: Pen, cut: number): GroupSystem => {
  const flat = flatten(strokes)
  const size = strokePlace(flat.count, flat.knots)
  const lower = new Float64Array(size * size)
  const right = new Float64Array(size)
  const residuals = new Float64Array(pixels.count)
  const row: Row = { places: Int32Array.from({ length: size }, (_, i) => i), slopes: new Float64Array(size), touched: 0, ink: 0 }
  const [level, aside, outward] = ground as [number, number, number]
  let sum = 0
  let weight = 0
  for (let i = 0; i < pixels.count; i++) {
    const tau = pixels.tau[i] as number
    const s = pixels.s[i] as number
    fillRow(row, tau, s, flat, pen)
    const residual = (pixels.grey[i] as number) - toGrey(row, s, tau, level + aside * s + outward * tau)
    residuals[i] = residual
    const z = residual / cut
    if (z >= 1 || z <= -1) continue
    const w = (1 - z * z) ** 2 * (pixels.weight[i] as number)
    sum += w * residual * residual
    weight += w
    addRow(row, [w, residual], lower, right)
  }
  return { size, lower, right, residuals, sum, weight }
}
