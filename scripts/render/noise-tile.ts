import { createRandom } from './random.ts'

/** A square of smooth noise that repeats without a seam; mean 0, standard deviation 1. */
export interface NoiseTile {
  readonly size: number
  readonly values: Float32Array
}

/** Size must be a power of two. `smooth` passes of a small blur set the grain (0: white). */
export const createNoiseTile = (seed: number, size: number, smooth: number): NoiseTile => {
  const random = createRandom(seed, 'tile')
  let values = Float32Array.from({ length: size * size }, () => random.normal())
  for (let pass = 0; pass < smooth; pass++) values = blurOnce(values, size)
  let sum = 0
  for (const v of values) sum += v * v
  const scale = 1 / Math.sqrt(sum / values.length)
  return { size, values: values.map((v) => v * scale) }
}

const blurOnce = (values: Float32Array, size: number): Float32Array<ArrayBuffer> => {
  const mask = size - 1
  const rows = new Float32Array(values.length)
  const out = new Float32Array(values.length)
  const at = (a: Float32Array, i: number): number => a[i] ?? 0
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      const row = y * size
      rows[row + x] = 0.25 * at(values, row + ((x - 1) & mask)) + 0.5 * at(values, row + x) + 0.25 * at(values, row + ((x + 1) & mask))
    }
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      const up = ((y - 1) & mask) * size + x
      const down = ((y + 1) & mask) * size + x
      out[y * size + x] = 0.25 * at(rows, up) + 0.5 * at(rows, y * size + x) + 0.25 * at(rows, down)
    }
  return out
}

/** Bilinear value at (x, y) in tile cells; any real coordinates. */
export const sampleNoise = (tile: NoiseTile, x: number, y: number): number => {
  const mask = tile.size - 1
  const v = tile.values
  const xf = Math.floor(x)
  const yf = Math.floor(y)
  const fx = x - xf
  const fy = y - yf
  const x0 = xf & mask
  const x1 = (xf + 1) & mask
  const r0 = (yf & mask) * tile.size
  const r1 = ((yf + 1) & mask) * tile.size
  const top = (v[r0 + x0] ?? 0) * (1 - fx) + (v[r0 + x1] ?? 0) * fx
  const bottom = (v[r1 + x0] ?? 0) * (1 - fx) + (v[r1 + x1] ?? 0) * fx
  return top * (1 - fy) + bottom * fy
}
