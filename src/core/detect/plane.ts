import { greyAt } from './grey-at.ts'
import { photoPlace, workspace } from './kernels/workspace.ts'
import type { Point, Raster } from './raster.ts'

/** Reduced picture of natural logarithms: a change of x is a change of brightness by the factor eˣ, whatever the light. */
export interface Plane {
  readonly width: number
  readonly height: number
  readonly data: Float32Array
  /** Full-resolution px per px of this plane. */
  readonly factor: number
}

/** Added to grey before the logarithm, so that noise in the dark stays small. */
const TOE = 12

const logTable = (cells: number): Float32Array => {
  const table = new Float32Array(255 * cells + 1)
  for (let sum = 0; sum < table.length; sum++) table[sum] = Math.log(sum / cells + TOE)
  return table
}

/** Reduction at which the picture's longer side is near 1,800 px: enough to see a stroke, little enough to be quick. */
export const workingFactor = ({ width, height }: Raster): number => Math.max(1, Math.round(Math.max(width, height) / 1800))

/** A photo of more pixels is taken in at a glance at half that resolution. */
const LARGE = 6e6

/** Reduction for what is only found, or found to be absent, in the reduced picture and placed in the photo itself. */
export const glanceFactor = (raster: Raster): number => (raster.width * raster.height > LARGE ? 2 : 1) * workingFactor(raster)

/** Sums of grey over factor × factor boxes; a remainder at the right and bottom is dropped. */
export interface BoxSums {
  readonly width: number
  readonly height: number
  readonly sums: Uint32Array
  readonly factor: number
}

/** The sums last taken of a photo: the sheet, the lines and dots are looked for in the same ones, or in twice as wide ones. */
const lastTaken = new WeakMap<Raster, BoxSums>()

export const boxSums = (raster: Raster, factor: number): BoxSums => {
  const last = lastTaken.get(raster)
  if (last?.factor === factor) return last
  if (last !== undefined && 2 * last.factor === factor) return doubled(last)
  const { width: across, height: down } = raster
  const width = Math.floor(across / factor)
  const height = Math.floor(down / factor)
  const photo = photoPlace(raster)
  const { program, u32, at: [column, into] } = workspace(2 * across, 4 * width * height)
  program.boxSums(photo, across, factor, width, height, column, into)
  const sums = u32.slice(into / 4, into / 4 + width * height)
  const taken = { width, height, sums, factor }
  lastTaken.set(raster, taken)
  return taken
}

/** The same with boxes twice as wide, without going back to the photo. */
export const doubled = ({ width: across, height: down, sums: fine, factor }: BoxSums): BoxSums => {
  const width = across >> 1
  const height = down >> 1
  const sums = new Uint32Array(width * height)
  for (let y = 0; y < height; y++) {
    let above = 2 * y * across
    for (let x = 0; x < width; x++, above += 2) {
      const below = above + across
      sums[y * width + x] = (fine[above] as number) + (fine[above + 1] as number) + (fine[below] as number) + (fine[below + 1] as number)
    }
  }
  return { width, height, sums, factor: 2 * factor }
}

/** Logarithm of the mean of each box. */
export const logOf = ({ width, height, sums, factor }: BoxSums): Plane => {
  const table = logTable(factor * factor)
  const { program, u32, f32, at: [numbers, logs, into] } = workspace(4 * sums.length, 4 * table.length, 4 * sums.length)
  u32.set(sums, numbers / 4)
  f32.set(table, logs / 4)
  program.look(numbers, sums.length, logs, into)
  const data = f32.slice(into / 4, into / 4 + sums.length)
  return { width, height, data, factor }
}

/** Mean over factor × factor boxes, then the logarithm; a remainder at the right and bottom is dropped. */
export const logPlane = (raster: Raster, factor: number): Plane => logOf(boxSums(raster, factor))

/** Place of a plane's point in the full-resolution photo. */
export const toFullResolution = ({ factor }: Pick<Plane, 'factor'>, [x, y]: Point): Point => [factor * x + (factor - 1) / 2, factor * y + (factor - 1) / 2]

/** The other way round. */
export const toReduced = ({ factor }: Pick<Plane, 'factor'>, [x, y]: Point): Point => [(x - (factor - 1) / 2) / factor, (y - (factor - 1) / 2) / factor]

/** Value between pixels by bilinear interpolation; the edge value goes on outside. */
export const samplePlane = ({ width, height, data }: Plane, x: number, y: number): number =>
  greyAt({ width, height, grey: data }, [Math.min(Math.max(x, 0), width - 1.001), Math.min(Math.max(y, 0), height - 1.001)])

const gaussianTaps = (sigma: number): Float32Array => {
  const radius = Math.ceil(2.6 * sigma)
  const taps = Float32Array.from({ length: radius + 1 }, (_, i) => Math.exp((-i * i) / (2 * sigma * sigma)))
  const total = taps.reduce((sum, tap, i) => sum + (i === 0 ? tap : 2 * tap), 0)
  return taps.map((tap) => tap / total)
}

/** From one column to before another that is wanted in some rows; null where none is. */
export type Wanted = (rows: readonly [first: number, last: number]) => readonly [from: number, to: number] | null

/**
 * Gaussian smoothing, columns then rows; beyond the border its nearest pixels go on.
 * @param wanted where the outcome is of interest, by default everywhere; elsewhere it may be 0
 */
export const smoothPlane = (plane: Plane, sigma: number, wanted: Wanted = () => [0, plane.width]): Plane => {
  const { width, height, data } = plane
  const taps = gaussianTaps(sigma)
  const radius = taps.length - 1
  const { program, i32, f32, at: [from, weights, spans, line, into] } = workspace(4 * data.length, 4 * taps.length, 8 * height, 4 * (width + 2 * radius), 4 * data.length)
  f32.set(data, from / 4)
  f32.set(taps, weights / 4)
  for (let y = 0; y < height; y++) i32.set(wanted([y - 1, y + 1]) ?? [0, 0], spans / 4 + 2 * y)
  program.smooth(from, width, height, weights, radius, spans, line, into)
  return { ...plane, data: f32.slice(into / 4, into / 4 + data.length) }
}
