import type { Point } from '#core/detect/raster'

/** Any picture of brightness, row by row. */
interface Greys {
  readonly width: number
  readonly height: number
  readonly grey: ArrayLike<number>
}

/** Grey between pixels, bilinear; beyond the outermost pixels' centres NaN. */
export const greyAt = ({ width, height, grey }: Greys, [x, y]: Point): number => {
  const [left, top] = [Math.floor(x), Math.floor(y)]
  if (!(left >= 0 && top >= 0 && left < width - 1 && top < height - 1)) return Number.NaN
  const [fx, fy] = [x - left, y - top]
  const at = top * width + left
  const upper = (grey[at] as number) * (1 - fx) + (grey[at + 1] as number) * fx
  const lower = (grey[at + width] as number) * (1 - fx) + (grey[at + width + 1] as number) * fx
  return upper * (1 - fy) + lower * fy
}
