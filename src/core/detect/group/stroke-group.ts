import type { Point, Raster } from '#core/detect/raster'

/** The piece of the ring that a group is read in. Frame: `t` px outward from the middle, `s` px aside (outward turned by +90° in x right, y down). */
export interface GroupFrame {
  readonly middle: Point
  /** Unit vector away from the shaft. */
  readonly along: Point
  readonly halfLength: number
  /** Distance of the middle from the shaft, px. */
  readonly radius: number
  /** Pixels with |s| up to this are read. */
  readonly reach: number
}

/** What every stroke of one pen has in common, px. */
export interface Pen {
  readonly halfWidth: number
  readonly sigma: number
}

/** One stroke of a group: s = offset + lean·τ, τ = t / halfLength; the share of the light that its ink takes at even knots over τ = −1 … 1. */
export interface GroupStroke {
  readonly offset: number
  readonly lean: number
  readonly amplitudes: readonly number[]
}

/** Pixels of the photo, or means of several. */
export interface GroupPixels {
  readonly count: number
  readonly tau: Float64Array
  readonly s: Float64Array
  readonly grey: Float64Array
  /** How many pixels each stands for. */
  readonly weight: Float64Array
}

/** The photo's pixels in a frame. */
export const groupPixels = (raster: Raster, { middle, along, halfLength, reach }: GroupFrame): GroupPixels => {
  const span = Math.ceil(Math.hypot(halfLength, reach))
  const [x0, x1] = [Math.max(0, Math.floor(middle[0]) - span), Math.min(raster.width - 1, Math.ceil(middle[0]) + span)]
  const [y0, y1] = [Math.max(0, Math.floor(middle[1]) - span), Math.min(raster.height - 1, Math.ceil(middle[1]) + span)]
  const tau: number[] = []
  const s: number[] = []
  const grey: number[] = []
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const dx = x - middle[0]
      const dy = y - middle[1]
      const t = dx * along[0] + dy * along[1]
      const aside = dy * along[0] - dx * along[1]
      if (Math.abs(t) > halfLength || Math.abs(aside) > reach) continue
      tau.push(t / halfLength)
      s.push(aside)
      grey.push(raster.grey[y * raster.width + x] as number)
    }
  }
  return { count: tau.length, tau: Float64Array.from(tau), s: Float64Array.from(s), grey: Float64Array.from(grey), weight: new Float64Array(tau.length).fill(1) }
}

const BIN_PX = 0.6
const BIN_ROWS_PX = 7
const MOST_ROWS = 9

/** Means over narrow sectors that converge on the shaft, in rows of some seven px: a quarter of the numbers, as good for counting. */
export const binned = (pixels: GroupPixels, { halfLength, radius, reach }: GroupFrame): GroupPixels => {
  const rows = Math.min(MOST_ROWS, Math.max(3, Math.round((2 * halfLength) / BIN_ROWS_PX)))
  const columns = Math.ceil((4 * reach) / BIN_PX)
  const sums = Array.from({ length: 4 }, () => new Float64Array(rows * columns)) as [Float64Array, Float64Array, Float64Array, Float64Array]
  for (let i = 0; i < pixels.count; i++) {
    const tau = pixels.tau[i] as number
    const s = pixels.s[i] as number
    const column = Math.round((s / (1 + (tau * halfLength) / radius) + 2 * reach) / BIN_PX)
    if (column < 0 || column >= columns) continue
    const bin = Math.min(rows - 1, Math.floor(((tau + 1) / 2) * rows)) * columns + column
    for (const [k, value] of [tau, s, pixels.grey[i] as number, 1].entries()) (sums[k] as Float64Array)[bin] = (sums[k]?.[bin] as number) + value
  }
  const [tau, s, grey, weight] = sums
  const filled = [...weight.keys()].filter((i) => (weight[i] as number) > 0)
  const mean = (of: Float64Array): Float64Array => Float64Array.from(filled, (i) => (of[i] as number) / (weight[i] as number))
  return { count: filled.length, tau: mean(tau), s: mean(s), grey: mean(grey), weight: Float64Array.from(filled, (i) => weight[i] as number) }
}
