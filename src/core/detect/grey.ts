import type { Raster } from './raster.ts'

/** Eight ways a camera may have been held; the tag's values 1 … 8 (Exif 2.3, tag 0x0112). */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8

/** Interleaved samples as a decoder gives them, not yet turned upright. */
export interface Pixmap {
  readonly width: number
  readonly height: number
  /** 1 grey, 2 grey + alpha, 3 RGB, 4 RGBA. */
  readonly channels: number
  readonly samples: Uint8Array | Uint8ClampedArray
}

/**
 * Where stored pixel (0, 0) goes in the upright picture, and how far one step right or down in the store moves there.
 * Exif: the tag names the upright side that row 0 and column 0 lie on, e.g. 6 = row 0 at the right, column 0 at the top.
 */
const strides = (orientation: Orientation, width: number, height: number) => {
  const swapped = orientation >= 5
  const across = swapped ? height : width
  const down = swapped ? width : height
  const right = (x: number, y: number) => y * across + x
  const corners = { tl: 0, tr: right(across - 1, 0), bl: right(0, down - 1), br: right(across - 1, down - 1) }
  const table = {
    1: [corners.tl, 1, across],
    2: [corners.tr, -1, across],
    3: [corners.br, -1, -across],
    4: [corners.bl, 1, -across],
    5: [corners.tl, across, 1],
    6: [corners.tr, across, -1],
    7: [corners.br, -across, -1],
    8: [corners.bl, -across, 1],
  } as const
  return { across, down, step: table[orientation] }
}

/** Lays grey over white where a pixel is not opaque. */
const overWhite = (grey: number, alpha: number): number => 255 + Math.round(((grey - 255) * alpha) / 255)

/** The luma of one stored row, integer weights of 1/256; of grey the grey itself. */
const lumaRow = ({ channels, samples }: Pixmap, from: number, into: Uint8Array): void => {
  const [green, blue] = channels >= 3 ? [1, 2] : [0, 0]
  for (let x = 0, at = from; x < into.length; x++, at += channels) into[x] = (77 * (samples[at] as number) + 150 * (samples[at + green] as number) + 29 * (samples[at + blue] as number) + 128) >> 8
}

/** Lays one row over white where it is not opaque. */
const layOverWhite = ({ channels, samples }: Pixmap, from: number, into: Uint8Array): void => {
  for (let x = 0, at = from + channels - 1; x < into.length; x++, at += channels) into[x] = overWhite(into[x] as number, samples[at] as number)
}

/** Writes a block of rows where it belongs in the upright picture: whole rows where they stay rows, otherwise column by column. */
const turnBlock = (block: Uint8Array, [width, rows]: readonly [number, number], grey: Uint8Array, [first, right, below]: readonly [number, number, number]): void => {
  if (right === 1) {
    for (let j = 0; j < rows; j++) grey.set(block.subarray(j * width, (j + 1) * width), first + j * below)
    return
  }
  for (let x = 0; x < width; x++) {
    let to = first + x * right
    for (let from = x; from < rows * width; from += width, to += below) grey[to] = block[from] as number
  }
}

/** Rows turned at a time: as they are written column by column, each line of the processor's cache is filled in one go. */
const BLOCK = 64

/**
 * Grey, upright. The mix is the luma a JPEG stores at full resolution (0.299 R + 0.587 G + 0.114 B), in which black, blue, red
 * and pencil marks are all darker than paper; alpha is laid over white.
 * @throws RangeError when the samples do not fill width·height·channels
 */
export const uprightGrey = (pixmap: Pixmap, orientation: Orientation = 1): Raster => {
  const { width, height, channels, samples } = pixmap
  if (samples.length < width * height * channels) throw new RangeError(`expected ${width * height * channels} samples, got ${samples.length}`)
  const { across, down, step } = strides(orientation, width, height)
  const [first, right, below] = step
  const grey = new Uint8Array(width * height)
  const block = new Uint8Array(BLOCK * width)
  for (let top = 0; top < height; top += BLOCK) {
    const rows = Math.min(BLOCK, height - top)
    for (let j = 0; j < rows; j++) {
      const [from, row] = [(top + j) * width * channels, block.subarray(j * width, (j + 1) * width)]
      lumaRow(pixmap, from, row)
      if (channels % 2 === 0) layOverWhite(pixmap, from, row)
    }
    turnBlock(block, [width, rows], grey, [first + top * below, right, below])
  }
  return { width: across, height: down, grey }
}
