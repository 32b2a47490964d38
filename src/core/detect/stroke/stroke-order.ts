import type { StrokePixels } from './stroke-pixels.ts'

/** Pixels sorted by the interval between knots that they lie in: interval k holds starts[k] … starts[k + 1] − 1. */
export interface OrderedPixels extends StrokePixels {
  readonly starts: Int32Array
  /** Room for what a model leaves of each. */
  readonly residuals: Float64Array
}

/** Interval of `intervals` even ones over |t| ≤ halfLength; what lies beyond counts to the outermost. */
const intervalOf = (t: number, halfLength: number, intervals: number): number =>
  Math.max(0, Math.min(intervals - 1, Math.floor(((t / halfLength + 1) / 2) * intervals)))

/** Sorts by interval, in order within each, so that sums over an interval run through neighbours in memory. */
export const orderPixels = ({ count, t, s, grey }: StrokePixels, halfLength: number, intervals: number): OrderedPixels => {
  const starts = new Int32Array(intervals + 1)
  for (let i = 0; i < count; i++) {
    const above = intervalOf(t[i] as number, halfLength, intervals) + 1
    starts[above] = (starts[above] as number) + 1
  }
  for (let k = 0; k < intervals; k++) starts[k + 1] = (starts[k + 1] as number) + (starts[k] as number)
  const next = starts.slice()
  const sorted = { count, t: new Float64Array(count), s: new Float64Array(count), grey: new Float64Array(count), starts, residuals: new Float64Array(count) }
  for (let i = 0; i < count; i++) {
    const interval = intervalOf(t[i] as number, halfLength, intervals)
    const to = next[interval] as number
    next[interval] = to + 1
    sorted.t[to] = t[i] as number
    sorted.s[to] = s[i] as number
    sorted.grey[to] = grey[i] as number
  }
  return sorted
}
