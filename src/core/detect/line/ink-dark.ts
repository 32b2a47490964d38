import type { Hints } from '#core/detect/detection'
import type { Raster } from '#core/detect/raster'

/** The picture in which ink is dark: the photo itself, or its negative when the ink is said to be lighter than what it is on. */
export const inkDark = (raster: Raster, { ink }: Hints): Raster =>
  ink === 'light' ? { ...raster, grey: raster.grey.map((value) => 255 - value) } : raster
