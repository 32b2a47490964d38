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
