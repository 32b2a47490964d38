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

/** From the first column that is looked at in rows `first` to `last` to before one beyond the last, with a column to spare on each side; null where none is. */
export const spanOf = (look: LookBands, [first, last]: readonly [number, number], width: number): Stretch | null => {
  let [from, to] = [width, 0]
  for (let band = Math.max(0, Math.floor(first / BAND)); band <= Math.min(look.length - 1, Math.floor(last / BAND)); band++) {
    const stretches = look[band] ?? []
    if (stretches.length === 0) continue
    from = Math.min(from, (stretches[0] as Stretch)[0])
    to = Math.max(to, (stretches[stretches.length - 1] as Stretch)[1])
  }
  return from < to ? [Math.max(0, from - 1), Math.min(width, to + 1)] : null
}

/**
 * The squares that lines touch, and those about them.
 * @param lines from end to end, px of the photo
 */
export const nearLines = (look: LookBands, { factor, width }: Plane, lines: readonly { readonly p0: Point; readonly p1: Point }[]): LookBands => {
  const columns = Math.ceil(width / BAND)
  const near = new Uint8Array(look.length * columns)
  for (const { p0, p1 } of lines) {
    const steps = Math.ceil((2 * Math.hypot(p1[0] - p0[0], p1[1] - p0[1])) / (factor * BAND))
    for (let n = 0; n <= steps; n++) {
      const t = steps === 0 ? 0 : n / steps
      const [i, j] = [p0[0] + t * (p1[0] - p0[0]), p0[1] + t * (p1[1] - p0[1])].map((v) => Math.floor(v / (factor * BAND))) as [number, number]
      for (let row = Math.max(0, j - 1); row <= Math.min(look.length - 1, j + 1); row++) for (let column = Math.max(0, i - 1); column <= Math.min(columns - 1, i + 1); column++) near[row * columns + column] = 1
    }
  }
  return look.map((stretches, row) =>
    stretches
      .flatMap(([from, to]) => Array.from({ length: Math.ceil((to - from) / BAND) }, (_, i): Stretch => [from + i * BAND, Math.min(to, from + (i + 1) * BAND)]))
      .filter(([from]) => near[row * columns + from / BAND] === 1)
      .reduce<readonly Stretch[]>(joined, []),
  )
}
