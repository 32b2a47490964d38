

/** How long the focal length is, as far as something tells it. */
export interface Lens {
  /** Focal length over the picture's longer side. */
  readonly focal: number
  /** Standard uncertainty of its natural logarithm. */
  readonly spread: number
}

/**
 * A grey picture, upright (any rotation tag already honoured), row after row.
 * Frame: px, x right, y down; the centre of the first pixel is (0, 0).
 */
export interface Raster {
  readonly width: number
  readonly height: number
  /** width·height grey values, 0 black … 255 white. */
  readonly grey: Uint8Array
  /** The lens that the photo itself names; left out where it names none. */
  readonly lens?: Lens
}

/** A picture's frame and lens, whatever it shows. */
export type Picture = Omit<Raster, 'grey'>

/** [x, y] in px of the upright photo, y down. */
export type Point = readonly [x: number, y: number]

/** Is a place in the picture, or no farther outside its outermost pixels' centres than `margin` px? */
export const inPicture = ({ width, height }: { readonly width: number; readonly height: number }, [x, y]: Point, margin = 0): boolean =>
  x >= -margin && y >= -margin && x <= width - 1 + margin && y <= height - 1 + margin
