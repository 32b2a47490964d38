import { type Plane, toFullResolution } from '#core/detect/plane'
import type { Point } from '#core/detect/raster'

/** Side of the squares in which a plane is looked at or left out, px of the plane. */
export const BAND = 32

/** From one column to before another. */
export type Stretch = readonly [from: number, to: number]

/** For each band of 32 rows of a plane the stretches of columns in which a mark may lie. */
export type LookBands = readonly (readonly Stretch[])[]

/** Joins a square to the last stretch when that ends where the square begins. */
const joined = (stretches: readonly Stretch[], [from, to]: Stretch): readonly Stretch[] => {
  const last = stretches.at(-1)
  return last?.[1] === from ? [...stretches.slice(0, -1), [last[0], to]] : [...stretches, [from, to]]
}

/**
 * The squares of a plane in which a mark may lie at a corner or in the middle: on a table the rest costs as much as the paper.
 * @param usable whether a mark may lie at a place, px of the photo
 */
export const lookBands = (plane: Plane, usable: (px: Point) => boolean): LookBands => {
  const at = (column: number, row: number): boolean => usable(toFullResolution(plane, [column, row]))
  const rows = Math.ceil(plane.height / BAND)
  const columns = Math.ceil(plane.width / BAND)
  const corners = Array.from({ length: rows + 1 }, (_, j) => Array.from({ length: columns + 1 }, (__, i) => at(i * BAND, j * BAND)))
  const isOpen = (i: number, j: number): boolean =>
    corners[j]?.[i] === true || corners[j]?.[i + 1] === true || corners[j + 1]?.[i] === true || corners[j + 1]?.[i + 1] === true || at((i + 0.5) * BAND, (j + 0.5) * BAND)
  return Array.from({ length: rows }, (_, j) =>
    Array.from({ length: columns }, (__, i) => i)
      .filter((i) => isOpen(i, j))
      .map((i): Stretch => [i * BAND, Math.min(plane.width, (i + 1) * BAND)])
      .reduce<readonly Stretch[]>(joined, []),
  )
}
