import type { Raster } from '#core/detect/raster'

/** A photo reduced far enough that only what is large is left. */
export interface SmallPicture {
  readonly columns: number
  readonly rows: number
  /** Px of the photo per px of this. */
  readonly factor: number
  readonly grey: Float32Array
}

const SMALL = 320

/** Means over as many px to each side as leave it some 320 long. */
export const reducePhoto = ({ width, height, grey }: Raster): SmallPicture => {
  const factor = Math.max(1, Math.floor(Math.max(width, height) / SMALL))
  const columns = Math.floor(width / factor)
  const rows = Math.floor(height / factor)
  const out = new Float32Array(columns * rows)
  const skip = Math.max(1, factor >> 2)
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      let sum = 0
      let count = 0
      for (let j = 0; j < factor; j += skip) {
        for (let i = 0; i < factor; i += skip) {
          sum += grey[(r * factor + j) * width + c * factor + i] as number
          count++
        }
      }
      out[r * columns + c] = sum / count
    }
  }
  return { columns, rows, factor, grey: out }
}

/** Shares of the range of grey, and of the pixels, at which the picture is cut in two; likeliest first. */
const LEVELS = [0.48, 0.58, 0.38, 0.68, 0.28, 0.78, 0.18, 0.08]

/** So many pixels at a time are spoken for by one. */
const THINNED = 7

/** Brightness levels at which a small picture is cut in two. */
export const cutLevels = (grey: Float32Array): number[] => {
  const sorted = Float32Array.from({ length: Math.ceil(grey.length / THINNED) }, (_, i) => grey[THINNED * i] as number).sort()
  const at = (p: number): number => sorted[Math.floor(p * (sorted.length - 1))] as number
  return [...LEVELS.map((p) => at(0.01) + p * (at(0.99) - at(0.01))), ...LEVELS.map(at)]
}
