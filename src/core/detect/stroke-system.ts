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

const row = new Float64Array(FIXED + 2)
const place = new Int32Array(FIXED + 2)

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
  for (let i = 0; i < FIXED; i++) place[i] = i
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
    place[8] = FIXED + knot
    place[9] = FIXED + next
    weight += w
    sum += w * residual * residual
    // Bare paper tells about the paper only.
    const first = p < 1e-5 && plus + minus < 1e-5 ? 5 : 0
    const last = first === 0 ? FIXED + 2 : FIXED
    for (let m = first; m < last; m++) {
      const wm = w * (row[m] as number)
      const pm = place[m] as number
      right[pm] = (right[pm] as number) + wm * residual
      for (let n = first; n <= m; n++) {
        const cell = pm * size + (place[n] as number)
        lower[cell] = (lower[cell] as number) + wm * (row[n] as number)
      }
    }
  }
  return { size, lower, right, weight, sum, residuals }
}
