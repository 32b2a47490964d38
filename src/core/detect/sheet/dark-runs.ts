import { boxSums } from '#core/detect/plane'
import type { Raster } from '#core/detect/raster'

/** Horizontal runs of dark pixels in reading order: row, first column and column after the last. */
export interface Runs {
  readonly count: number
  readonly rows: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
}

/** Mean over factor × factor boxes; a remainder at the right and bottom is dropped. */
export const reduceBy = (raster: Raster, factor: number): Raster => {
  if (factor === 1) return raster
  const { width, height, sums } = boxSums(raster, factor)
  const grey = new Uint8Array(sums.length)
  for (let i = 0; i < grey.length; i++) grey[i] = (sums[i] as number) / (factor * factor)
  return { width, height, grey }
}

const addRow = (sums: Int32Array, { width, grey }: Raster, y: number, sign: 1 | -1): void => {
  const row = y * width
  for (let x = 0; x < width; x++) sums[x] = (sums[x] as number) + sign * (grey[row + x] as number)
}

/** Running totals of column sums, one longer than they. */
const totalsOf = (sums: Int32Array, totals: Float64Array): void => {
  for (let x = 0; x < sums.length; x++) totals[x + 1] = (totals[x] as number) + (sums[x] as number)
}

interface Growing {
  count: number
  rows: Int32Array
  from: Int32Array
  to: Int32Array
}

const push = (runs: Growing, row: number, from: number, to: number): void => {
  if (runs.count === runs.rows.length) {
    for (const key of ['rows', 'from', 'to'] as const) {
      const larger = new Int32Array(2 * runs.count)
      larger.set(runs[key])
      runs[key] = larger
    }
  }
  runs.rows[runs.count] = row
  runs.from[runs.count] = from
  runs.to[runs.count++] = to
}

interface Window {
  readonly totals: Float64Array
  readonly half: number
  /** Limit over the mean, per row of the window. */
  readonly share: number
}

const scanRow = ({ width, grey }: Raster, y: number, runs: Growing, { totals, half, share }: Window): void => {
  let start = -1
  for (let x = 0; x < width; x++) {
    const low = x > half ? x - half : 0
    const high = x + half < width ? x + half + 1 : width
    const dark = (grey[y * width + x] as number) * (high - low) < share * ((totals[high] as number) - (totals[low] as number))
    if (dark && start < 0) start = x
    if (!dark && start >= 0) {
      push(runs, y, start, x)
      start = -1
    }
  }
  if (start >= 0) push(runs, y, start, width)
}

/** Runs of pixels darker than `ratio` times the mean of the square window of side 2·half + 1 about them (cut at the picture's edge). */
export const darkRuns = (raster: Raster, half: number, ratio: number): Runs => {
  const { width, height } = raster
  const runs: Growing = { count: 0, rows: new Int32Array(4096), from: new Int32Array(4096), to: new Int32Array(4096) }
  const sums = new Int32Array(width)
  const totals = new Float64Array(width + 1)
  for (let y = 0; y < Math.min(half, height); y++) addRow(sums, raster, y, 1)
  for (let y = 0; y < height; y++) {
    if (y + half < height) addRow(sums, raster, y + half, 1)
    if (y - half - 1 >= 0) addRow(sums, raster, y - half - 1, -1)
    totalsOf(sums, totals)
    const rows = Math.min(height - 1, y + half) - Math.max(0, y - half) + 1
    scanRow(raster, y, runs, { totals, half, share: ratio / rows })
  }
  return runs
}
