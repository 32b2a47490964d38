import { fixed } from '#core/report/number-text'

export interface Axis {
  readonly low: number
  readonly high: number
  readonly ticks: readonly number[]
  /** Decimals that tell neighbouring ticks apart. */
  readonly decimals: number
  /** Quantity and unit. */
  readonly label: string
}

const niceFactors = [1, 2, 2.5, 5, 10]

/** The smallest of 1, 2, 2.5, 5 × 10ⁿ that spans the range in at most so many steps. */
export const niceStep = (range: number, most: number, whole = false): number => {
  const rough = range / most
  const size = 10 ** Math.floor(Math.log10(rough))
  const step = (niceFactors.find((factor) => factor * size >= rough * (1 - 1e-9)) ?? 10) * size
  return whole ? Math.max(1, Math.ceil(step)) : step
}

const decimalsOfStep = (step: number): number => [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].find((digits) => Math.abs(step * 10 ** digits - Math.round(step * 10 ** digits)) < 1e-6) ?? 10

/** Ticks between two values, ends included where they fall on one. */
export const ticksBetween = (low: number, high: number, step: number): number[] => {
  const first = Math.ceil(low / step - 1e-9)
  const last = Math.floor(high / step + 1e-9)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step)
}

export interface AxisOptions {
  readonly label: string
  readonly most?: number
  /** Ends moved out to the next tick. */
  readonly rounded?: boolean
  /** Whole numbers only: commands, counts. */
  readonly whole?: boolean
}

/** An axis over a range; one of no width is opened by 1 about its value. */
export const axisOf = (low: number, high: number, { label, most = 6, rounded = false, whole = false }: AxisOptions): Axis => {
  const [from, to] = high > low ? [low, high] : [low - 0.5, low + 0.5]
  const step = niceStep(to - from, most, whole)
  const ends = rounded ? [Math.floor(from / step + 1e-9) * step, Math.ceil(to / step - 1e-9) * step] : [from, to]
  return { low: ends[0] ?? from, high: ends[1] ?? to, ticks: ticksBetween(ends[0] ?? from, ends[1] ?? to, step), decimals: decimalsOfStep(step), label }
}

export const tickText = (axis: Axis, tick: number): string => fixed(tick, axis.decimals)

/** Value → coordinate. */
export const scaleOf =
  ({ low, high }: Axis, from: number, to: number) =>
  (value: number): number =>
    from + ((value - low) / (high - low)) * (to - from)
