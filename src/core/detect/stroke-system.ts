import { quickBell, quickErf } from '#core/numeric/error-function'
import type { StrokePixels } from './stroke-pixels.ts'

/** Parameters of a stroke while it is being fitted; `ground` is the paper's brightness: level, slope aside, slope along. */
export interface StrokeState {
  readonly bow: number[]
  readonly amplitudes: number[]
  readonly ground: number[]
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
  /** Residuals of this round, one per pixel. */
  readonly residuals: Float64Array
}

/** A pixel touches the fixed parameters and the two amplitudes of its interval between knots. */
const TOUCHED = FIXED + 2
const TRIANGLE = (TOUCHED * (TOUCHED + 1)) / 2
const BLOCK = TRIANGLE + TOUCHED

const row = new Float64Array(TOUCHED)

/** Adds each interval's small system into the whole one. */
const scatter = (blocks: Float64Array, intervals: number, { size, lower, right }: Pick<StrokeSystem, 'size' | 'lower' | 'right'>): void => {
  for (let interval = 0; interval < intervals; interval++) {
    const base = interval * BLOCK
    const place = (m: number): number => (m < FIXED ? m : Math.min(size - 1, m + interval))
    let k = base
    for (let m = 0; m < TOUCHED; m++) {
      right[place(m)] = (right[place(m)] as number) + (blocks[base + TRIANGLE + m] as number)
      for (let n = 0; n <= m; n++, k++) {
        const cell = place(m) * size + place(n)
        lower[cell] = (lower[cell] as number) + (blocks[k] as number)
      }
    }
  }
}

/**
 * Residuals and normal equations of the stroke model at the given state, in one pass over the pixels.
 * Pixels whose residual exceeds `cut` (grey levels) count for nothing, nearer ones by Tukey's biweight.
 */
export const accumulate = (pixels: StrokePixels, state: StrokeState, [halfLength, reachS]: readonly [number, number], cut: number): StrokeSystem => {
  const knots = state.amplitudes.length
  const size = FIXED + knots
  const lower = new Float64Array(size * size)
  const right = new Float64Array(size)
  const residuals = new Float64Array(pixels.count)
  const [b0, b1, b2] = state.bow as [number, number, number]
  const [g0, g1, g2] = state.ground as [number, number, number]
  const { halfWidth: h, sigma, amplitudes } = state
  const scale = 1 / sigma
  const intervals = Math.max(1, knots - 1)
  const blocks = new Float64Array(intervals * BLOCK)
  let weight = 0
  let sum = 0
  for (let i = 0; i < pixels.count; i++) {
    const tau = (pixels.t[i] as number) / halfLength
    const s = pixels.s[i] as number
    const curve = 1.5 * tau * tau - 0.5
    const d = s - b0 - b1 * tau - b2 * curve
    const at = Math.max(0, Math.min(knots - 1, ((tau + 1) / 2) * (knots - 1)))
    const knot = Math.max(0, Math.min(knots - 2, Math.floor(at)))
    const f = at - knot
    const next = Math.min(knots - 1, knot + 1)
    const a = (amplitudes[knot] as number) * (1 - f) + (amplitudes[next] as number) * f
    const up = (d + h) * scale
    const down = (d - h) * scale
    const p = 0.5 * (quickErf(up * Math.SQRT1_2) - quickErf(down * Math.SQRT1_2))
    const residual = (pixels.grey[i] as number) - (g0 + (g1 * s) / reachS + g2 * tau - a * p)
    residuals[i] = residual
    const z = residual / cut
    if (z >= 1 || z <= -1) continue
    const w = (1 - z * z) * (1 - z * z)
    const plus = quickBell(up) * scale
    const minus = quickBell(down) * scale
    const slope = a * (plus - minus)
    row[0] = slope
    row[1] = slope * tau
    row[2] = slope * curve
    row[3] = -a * (plus + minus)
    row[4] = a * (up * plus - down * minus)
    row[5] = 1
    row[6] = s / reachS
    row[7] = tau
    row[8] = -p * (1 - f)
    row[9] = -p * f
    weight += w
    sum += w * residual * residual
    const base = knot * BLOCK
    // Bare paper tells about the paper only.
    const bare = p < 1e-5 && plus + minus < 1e-5
    const first = bare ? 5 : 0
    const last = bare ? FIXED : TOUCHED
    for (let m = first; m < last; m++) {
      const wm = w * (row[m] as number)
      const cell = base + TRIANGLE + m
      blocks[cell] = (blocks[cell] as number) + wm * residual
      let k = base + (m * (m + 1)) / 2 + first
      for (let n = first; n <= m; n++, k++) blocks[k] = (blocks[k] as number) + wm * (row[n] as number)
    }
  }
  scatter(blocks, intervals, { size, lower, right })
  return { size, lower, right, weight, sum, residuals }
}
