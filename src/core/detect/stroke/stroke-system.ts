import { tables } from '#core/detect/kernels/kernels'
import { workspace } from '#core/detect/kernels/workspace'
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

/** A pixel touches the fixed parameters and the two amplitudes of its interval between knots; and it has a residual. */
const COLUMNS = FIXED + 3

/**
 * Residuals and normal equations of the stroke model at the given state. Pixels whose residual exceeds `cut` (grey levels)
 * count for nothing, nearer ones by Tukey's biweight w = (1 − z²)², whose root goes into the columns.
 * @param pixels sorted by the state's intervals between knots (two knots or more)
 */
export const accumulate = (pixels: OrderedPixels, state: StrokeState, spans: readonly [halfLength: number, reachS: number], cut: number): StrokeSystem => {
  const { count, starts } = pixels
  const { bow, amplitudes, ground, halfWidth, sigma } = state
  const size = FIXED + amplitudes.length
  const room = count + 2
  const { program, i32, f64, at: [from, first, parameters, columns, lower, right] } = workspace(8 * 4 * room, 4 * starts.length, 8 * (11 + amplitudes.length), 8 * COLUMNS * room, 8 * size * size, 8 * (size + 2))
  f64.set(pixels.t, from / 8)
  f64.set(pixels.s, from / 8 + room)
  f64.set(pixels.grey, from / 8 + 2 * room)
  i32.set(starts, first / 4)
  f64.set([...bow, halfWidth, sigma, ...ground, ...spans, cut, ...amplitudes], parameters / 8)
  program.strokeSystem(from, room, first, starts.length - 1, parameters, columns, lower, right, tables.erf, tables.bell)
  pixels.residuals.set(f64.subarray(from / 8 + 3 * room, from / 8 + 3 * room + count))
  const sums = right / 8 + size
  return { size, lower: f64.slice(lower / 8, lower / 8 + size * size), right: f64.slice(right / 8, sums), weight: f64[sums] as number, sum: f64[sums + 1] as number, residuals: pixels.residuals }
}
