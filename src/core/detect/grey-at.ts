import type { Point } from './raster.ts'

/** Any picture of brightness, row by row. */
interface Greys {
  readonly width: number
  readonly height: number
  readonly grey: ArrayLike<number>
}

/** Grey between pixels, bilinear; beyond the outermost pixels' centres NaN. */
export const greyAt = ({ width, height, grey }: Greys, place: Point): number => {
  const x = place[0]
  const y = place[1]
  const left = Math.floor(x)
  const top = Math.floor(y)
  if (!(left >= 0 && top >= 0 && left < width - 1 && top < height - 1)) return Number.NaN
  const fx = x - left
  const fy = y - top
  const at = top * width + left
  const upper = (grey[at] as number) * (1 - fx) + (grey[at + 1] as number) * fx
  const lower = (grey[at + width] as number) * (1 - fx) + (grey[at + width + 1] as number) * fx
  return upper * (1 - fy) + lower * fy
}
