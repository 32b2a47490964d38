import type { Point } from './raster.ts'

/** Is a place in the picture, or no farther outside its outermost pixels' centres than `margin` px? */
export const inPicture = ({ width, height }: { readonly width: number; readonly height: number }, [x, y]: Point, margin = 0): boolean =>
  x >= -margin && y >= -margin && x <= width - 1 + margin && y <= height - 1 + margin
