/**
 * A grey picture, upright (any rotation tag already honoured), row after row.
 * Frame: px, x right, y down; the centre of the first pixel is (0, 0).
 */
export interface Raster {
  readonly width: number
  readonly height: number
  /** width·height grey values, 0 black … 255 white. */
  readonly grey: Uint8Array
}

/** [x, y] in px of the upright photo, y down. */
export type Point = readonly [x: number, y: number]
