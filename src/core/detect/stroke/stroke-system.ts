import { quickBell, quickErf } from '#core/numeric/error-function'
import type { OrderedPixels } from './stroke-order.ts'

/** Parameters of a stroke while it is being fitted; `ground` is the paper's brightness: level, slope aside, slope along. */
export interface StrokeState {
  readonly bow: Float64Array
  readonly amplitudes: Float64Array
  readonly ground: Float64Array
  halfWidth: number
  sigma: number
}

/** Order of the parameters: bow ×3, half width, sigma, ground ×3, then the amplitudes. */
export const FIXED = 8

/** One round's normal equations; `lower` holds the lower triangle of the normal matrix, row after row, `size` to a row. */
export interface StrokeSystem {
  readonly size: number
  readonly lower: Float64Array
  readonly right: Float64Array
  /** Sum of the weights, and of weight × residual². */
  weight: number
  sum: number
  /** Residuals of this round, one per pixel; the next round of these pixels writes over them. */
  readonly residuals: Float64Array
}

/** A pixel touches the fixed parameters and the two amplitudes of its interval between knots. */
const TOUCHED = FIXED + 2
/** Place of the paper's level among them, whose derivative is the root of the weight itself. */
const LEVEL = 5

/** Derivatives of one interval's pixels by each parameter they touch, and last their residuals, all times the root of the weight. */
type Columns = readonly Float64Array[]

type Triple = readonly [number, number, number]
type Eleven = readonly [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array]

let columns: Columns = []

/** The same columns serve every fit: as long as the longest yet. */
const columnsFor = (count: number): Columns => {
  if ((columns[0]?.length ?? 0) < count) columns = Array.from({ length: TOUCHED + 1 }, () => new Float64Array(2 * count))
  return columns
}

/** Products of two columns with two others, summed over the first `count`: each number fetched serves twice. */
const crossSums = ([a, b, c, d]: readonly [Float64Array, Float64Array, Float64Array, Float64Array], count: number, into: Float64Array): void => {
  let ac = 0
  let ad = 0
  let bc = 0
  let bd = 0
  for (let i = 0; i < count; i++) {
    const p = a[i] as number
    const q = b[i] as number
    const r = c[i] as number
    const s = d[i] as number
    ac += p * r
    ad += p * s
    bc += q * r
    bd += q * s
  }
  into[0] = ac
  into[1] = ad
  into[2] = bc
  into[3] = bd
}

const sums = new Float64Array(4)

/** What one round looks at: the pixels, the state, half length and half width they were gathered over, and the greatest residual that counts. */
interface Round {
  readonly pixels: OrderedPixels
  readonly state: StrokeState
  readonly spans: readonly [halfLength: number, reachS: number]
  readonly cut: number
  readonly residuals: Float64Array
}

/** Beyond this many blurs from an end the ink is whole. */
const END_REACH = 3

/** Share of the ink left at `t` by the blur of the ends. */
const leftByEnds = (t: number, halfLength: number, sigma: number): number => {
  const inside = halfLength - Math.abs(t)
  return inside > END_REACH * sigma ? 1 : 0.5 * (1 + quickErf((inside * Math.SQRT1_2) / sigma))
}

/** Fills residuals and columns with one interval's pixels; returns how many of them count. */
const fillColumns = ({ pixels, state, spans, cut, residuals }: Round, interval: number, into: Columns): number => {
  const [byPlace, byLean, byBow, byWidth, byBlur, byLevel, byAside, byAlong, byNear, byFar, left] = into as unknown as Eleven
  const [b0, b1, b2] = state.bow as unknown as Triple
  const [g0, g1, g2] = state.ground as unknown as Triple
  const { halfWidth, sigma, amplitudes } = state
  const [halfLength, reachS] = spans
  const near = amplitudes[interval] as number
  const rise = (amplitudes[interval + 1] as number) - near
  const intervals = amplitudes.length - 1
  const scale = 1 / sigma
  const to = pixels.starts[interval + 1] as number
  let n = 0
  for (let i = pixels.starts[interval] as number; i < to; i++) {
    const t = pixels.t[i] as number
    const tau = t / halfLength
    const s = pixels.s[i] as number
    const ends = leftByEnds(t, halfLength, sigma)
    const side = s / reachS
    const curve = 1.5 * tau * tau - 0.5
    const d = s - b0 - b1 * tau - b2 * curve
    const f = Math.max(0, Math.min(1, ((tau + 1) / 2) * intervals - interval))
    const a = (near + f * rise) * ends
    const up = (d + halfWidth) * scale
    const down = (d - halfWidth) * scale
    const p = 0.5 * (quickErf(up * Math.SQRT1_2) - quickErf(down * Math.SQRT1_2))
    const residual = (pixels.grey[i] as number) - g0 - g1 * side - g2 * tau + a * p
    residuals[i] = residual
    const z = residual / cut
    const root = 1 - z * z
    if (root <= 0) continue
    const plus = quickBell(up)
    const minus = quickBell(down)
    const shift = root * a * scale
    const slope = shift * (plus - minus)
    byPlace[n] = slope
    byLean[n] = slope * tau
    byBow[n] = slope * curve
    byWidth[n] = -shift * (plus + minus)
    byBlur[n] = shift * (up * plus - down * minus)
    byLevel[n] = root
    byAside[n] = root * side
    byAlong[n] = root * tau
    byNear[n] = -root * p * ends * (1 - f)
    byFar[n] = -root * p * ends * f
    left[n++] = root * residual
  }
  return n
}

/** Adds one interval's products of columns, two by two, to the normal equations. */
const addInterval = (system: StrokeSystem, interval: number, from: Columns, count: number): void => {
  const { size, lower, right } = system
  const left = from[TOUCHED] as Float64Array
  for (let m = 0; m < TOUCHED; m += 2) {
    const row = m < FIXED ? m : m + interval
    const a = from[m] as Float64Array
    const b = from[m + 1] as Float64Array
    for (let n = 0; n <= m; n += 2) {
      crossSums([a, b, from[n] as Float64Array, from[n + 1] as Float64Array], count, sums)
      const cell = row * size + (n < FIXED ? n : n + interval)
      lower[cell] = (lower[cell] as number) + (sums[0] as number)
      if (n < m) lower[cell + 1] = (lower[cell + 1] as number) + (sums[1] as number)
      lower[cell + size] = (lower[cell + size] as number) + (sums[2] as number)
      lower[cell + size + 1] = (lower[cell + size + 1] as number) + (sums[3] as number)
    }
    crossSums([a, b, left, left], count, sums)
    right[row] = (right[row] as number) + (sums[0] as number)
    right[row + 1] = (right[row + 1] as number) + (sums[2] as number)
  }
  const level = from[LEVEL] as Float64Array
  crossSums([level, left, level, left], count, sums)
  system.weight += sums[0] as number
  system.sum += sums[3] as number
}

/**
 * Residuals and normal equations of the stroke model at the given state. Pixels whose residual exceeds `cut` (grey levels)
 * count for nothing, nearer ones by Tukey's biweight w = (1 − z²)², whose root goes into the columns.
 * @param pixels sorted by the state's intervals between knots (two knots or more)
 */
export const accumulate = (pixels: OrderedPixels, state: StrokeState, spans: readonly [halfLength: number, reachS: number], cut: number): StrokeSystem => {
  const size = FIXED + state.amplitudes.length
  const system: StrokeSystem = { size, lower: new Float64Array(size * size), right: new Float64Array(size), weight: 0, sum: 0, residuals: pixels.residuals }
  const scratch = columnsFor(pixels.count)
  for (let interval = 0; interval < state.amplitudes.length - 1; interval++) {
    const count = fillColumns({ pixels, state, spans, cut, residuals: pixels.residuals }, interval, scratch)
    addInterval(system, interval, scratch, count)
  }
  return system
}
