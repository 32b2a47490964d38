import { type PlaneMap, pxPerUnitAt, toPhoto } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'

/** A square of the plane, sampled evenly. */
export interface Patch {
  /** Plane place of the cell in column 0 and row 0. */
  readonly origin: Point
  /** Plane units from cell to cell. */
  readonly step: number
  readonly size: number
  /** Brightness, row by row; NaN outside the picture. */
  readonly grey: Float64Array
}

/** More cells than this along a side cost too much: then each is the mean of several px. */
const MOST_CELLS = 220

/**
 * The photo round a place, as it lies in the plane: about one cell per px.
 * @param half half the square's side, plane units
 */
export const patchAround = (raster: Raster, map: PlaneMap, middle: Point, half: number): Patch => {
  const px = pxPerUnitAt(map, toPhoto(map, middle))
  const size = Math.max(16, Math.min(MOST_CELLS, Math.round(2 * half * px)))
  const step = (2 * half) / size
  const parts = Math.max(1, Math.min(4, Math.round(step * px)))
  const origin: Point = [middle[0] - half + step / 2, middle[1] - half + step / 2]
  const grey = new Float64Array(size * size)
  const shifts = Array.from({ length: parts }, (_, i) => ((i + 0.5) / parts - 0.5) * step)
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      let sum = 0
      for (const dy of shifts) for (const dx of shifts) sum += greyAt(raster, toPhoto(map, [origin[0] + column * step + dx, origin[1] + row * step + dy]))
      grey[row * size + column] = sum / (parts * parts)
    }
  }
  return { origin, step, size, grey }
}

/** Brightness at a place given in cells, bilinear; NaN beyond the outermost cells. */
export const cellAt = ({ size, grey }: Patch, x: number, y: number): number => greyAt({ width: size, height: size, grey }, [x, y])

export const cellsToPlane = ({ origin, step }: Patch, [x, y]: Point): Point => [origin[0] + x * step, origin[1] + y * step]
