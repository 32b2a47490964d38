import { workspace } from './kernels/workspace.ts'
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
  const { program, u8, at: [stored, block, grey] } = workspace(BLOCK * width * channels, BLOCK * width, width * height)
  for (let top = 0; top < height; top += BLOCK) {
    const rows = Math.min(BLOCK, height - top)
    u8.set(samples.subarray(top * width * channels, (top + rows) * width * channels), stored)
    program.luma(stored, channels, rows * width, block)
    if (channels % 2 === 0) program.overWhite(stored, channels, rows * width, block)
    program.turn(block, width, rows, grey + first + top * below, right, below)
  }
  return { width: across, height: down, grey: u8.slice(grey, grey + width * height) }
}
