import { workspace } from '#core/detect/kernels/workspace'
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
  const { program, u8, u32, at: [from, into] } = workspace(4 * sums.length, sums.length)
  u32.set(sums, from / 4)
  program.means(from, sums.length, factor * factor, into)
  return { width, height, grey: u8.slice(into, into + sums.length) }
}

/** Runs of pixels darker than `ratio` times the mean of the square window of side 2·half + 1 about them (cut at the picture's edge). */
export const darkRuns = ({ width, height, grey }: Raster, half: number, ratio: number): Runs => {
  const room = height * ((width + 1) >> 1)
  const { program, u8, i32, at: [pixels, sums, runs] } = workspace(grey.length, 4 * (2 * width + 1), 4 * 3 * room)
  u8.set(grey, pixels)
  const count = program.darkRuns(pixels, width, height, half, ratio, sums, runs, room)
  const [rows, from, to] = [0, 1, 2].map((n) => i32.slice(runs / 4 + n * room, runs / 4 + n * room + count)) as [Int32Array, Int32Array, Int32Array]
  return { count, rows, from, to }
}

/** Sums over the pixels of one connected dark area, reduced px. */
export interface Blob {
  readonly area: number
  readonly meanX: number
  readonly meanY: number
  /** Second central moments per pixel, px². */
  readonly xx: number
  readonly xy: number
  readonly yy: number
  /** Upright box round the area. */
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** Runs in the compiled loops' memory, which of them touch (corners included with `reach` 1), and room for their areas. */
const joined = ({ count, rows, from, to }: Runs, reach: 0 | 1) => {
  const { program, i32, f64, at: [runs, roots, slots, areas] } = workspace(4 * 3 * count, 4 * count, 4 * count, 8 * FIELDS * count)
  for (const [n, column] of [rows, from, to].entries()) i32.set(column.subarray(0, count), runs / 4 + n * count)
  program.joinRuns(runs, count, count, reach, roots)
  return { program, i32, f64, runs, roots, slots, areas }
}

/** For each run the one that stands for all that it touches, corners included (`reach` 1) or not (0), and all that these touch. */
export const rootsOf = (runs: Runs, reach: 0 | 1): Int32Array => {
  const { i32, roots } = joined(runs, reach)
  return i32.slice(roots / 4, roots / 4 + runs.count)
}

const FIELDS = 10

/** From an area's ten sums, see kernels/assembly/runs.ts. */
const blobOf = ([n = 1, x = 0, y = 0, xx = 0, xy = 0, yy = 0, left = 0, right = 0, top = 0, bottom = 0]: Float64Array): Blob => {
  const [meanX, meanY] = [x / n, y / n]
  return { area: n, meanX, meanY, xx: xx / n - meanX * meanX + 1 / 12, xy: xy / n - meanX * meanY, yy: yy / n - meanY * meanY + 1 / 12, left, top, width: right - left, height: bottom - top }
}

/** Connected dark areas (eight neighbours) of at least `leastArea` pixels, in no particular order. */
export const blobsOf = (dark: Runs, leastArea: number): readonly Blob[] => {
  const { program, f64, runs, roots, slots, areas } = joined(dark, 1)
  const count = program.sumAreas(runs, dark.count, dark.count, roots, slots, areas)
  return Array.from({ length: count }, (_, k) => areas / 8 + k * FIELDS)
    .filter((at) => (f64[at] as number) >= leastArea)
    .map((at) => blobOf(f64.subarray(at, at + FIELDS)))
}
