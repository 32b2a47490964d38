import { toFullResolution, workingFactor } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import { fitLine } from '#core/numeric/fit-line'
import { type Blob, blobsOf, darkRuns, reduceBy } from '#core/detect/sheet/dark-areas'
import { medianOrZero } from '#core/numeric/median'
import type { Refusal } from '#core/detect/detection'

/** A small compact dark thing: a dot or a cross. px of the full photo. */
export interface Spot {
  readonly middle: Point
  /** Half its larger extent. */
  readonly halfPx: number
  readonly area: number
  /** Second central moments, px²: [xx, xy, yy]. */
  readonly moments: readonly [number, number, number]
}

/** A spot that is no mark. */
export const refusedSpot = ({ middle: [x, y], halfPx }: Spot, why: string): Refusal => ({ p0: [x - halfPx, y], p1: [x + halfPx, y], why })

/** Spots in a row, and larger dark things on it that may be several of them run together. */
export interface SpotRow {
  readonly spots: readonly Spot[]
  readonly larger: readonly Spot[]
  /** How many spots of the row's size there are anywhere, its own among them. */
  readonly among: number
}

/** A row that holds fewer than this share of the picture's like spots is chance: masonry, a weave. */
const LEAST_SHARE = 0.25

/** Is a row of spots more than chance? */
export const standsOut = ({ spots, among }: SpotRow): boolean => spots.length > LEAST_SHARE * among

/** Darker than this share of the mean about it is ink. */
const DARK = 0.86
const LEAST_AREA = 8
/** A spot is no longer than this many times as wide as it is. */
const ROUND = 1.9
/** And no larger than this share of the picture's longer side. */
const LARGEST = 1 / 25

const isRound = ({ xx, xy, yy }: Blob): boolean => {
  const middle = (xx + yy) / 2
  const half = Math.hypot((xx - yy) / 2, xy)
  return Math.sqrt((middle + half) / Math.max(1e-9, middle - half)) < ROUND
}

const spotOf = ({ meanX, meanY, width, height, area, xx, xy, yy }: Blob, factor: number): Spot => ({
  middle: toFullResolution({ factor }, [meanX, meanY]),
  halfPx: (Math.max(width, height) * factor) / 2,
  area: area * factor * factor,
  moments: [xx * factor * factor, xy * factor * factor, yy * factor * factor],
})

export interface Things {
  readonly round: readonly Spot[]
  readonly other: readonly Spot[]
}

/** Everything in the picture that is dark and small, about as wide as high or not, searched at a reduction; `leastArea` in its pixels. */
export const smallThings = (raster: Raster, factor: number, leastArea = LEAST_AREA): Things => {
  const small = reduceBy(raster, factor)
  const largest = LARGEST * Math.max(small.width, small.height)
  const blobs = blobsOf(darkRuns(small, Math.round(largest), DARK), leastArea)
  const round = (b: Blob): boolean => Math.max(b.width, b.height) < largest && isRound(b)
  return { round: blobs.filter(round).map((b) => spotOf(b, factor)), other: blobs.filter((b) => !round(b) && Math.max(b.width, b.height) < 6 * largest).map((b) => spotOf(b, factor)) }
}

/** The spots about as large as most in a row. */
export const alike = (spots: readonly Spot[], row: readonly Spot[]): Spot[] => {
  const [area, half] = [medianOrZero(row.map((s) => s.area)), medianOrZero(row.map((s) => s.halfPx))]
  return spots.filter((s) => s.area > 0.33 * area && s.area < 3 * area && s.halfPx > 0.6 * half && s.halfPx < 1.6 * half)
}

/** Spots whose middles a straight line passes close by, each place once. */
const onLine = (spots: readonly Spot[], [a, b]: readonly [Spot, Spot]): Spot[] => {
  const length = Math.hypot(b.middle[0] - a.middle[0], b.middle[1] - a.middle[1])
  const [ux, uy] = [(b.middle[0] - a.middle[0]) / length, (b.middle[1] - a.middle[1]) / length]
  const away = ({ middle: [x, y] }: Spot): number => Math.abs((y - a.middle[1]) * ux - (x - a.middle[0]) * uy)
  return spots.filter((s) => away(s) < 0.9 * a.halfPx && s.area > 0.33 * a.area && s.area < 3 * a.area)
}

/** Things on the row's line that are larger than its spots, yet no higher. */
const largerOnRow = (things: readonly Spot[], row: readonly Spot[]): Spot[] => {
  const line = fitLine(row.map((s) => s.middle))
  const [area, half] = [medianOrZero(row.map((s) => s.area)), medianOrZero(row.map((s) => s.halfPx))]
  const away = ([x, y]: Point): number => (line === null ? 0 : Math.abs((y - line.point[1]) * line.direction[0] - (x - line.point[0]) * line.direction[1]))
  return things.filter((s) => !row.includes(s) && s.area > 1.4 * area && s.area < 12 * area && away(s.middle) < 0.9 * half)
}

/**
 * The row of like spots that most of them stand in.
 * @param usable whether a mark may lie at a place, px
 * @returns in no particular order; empty where fewer than five stand in a row
 */
export const findSpots = (raster: Raster, usable: (px: Point) => boolean): SpotRow => {
  const { round, other } = smallThings(raster, workingFactor(raster))
  const spots = round.filter((s) => usable(s.middle))
  let best: Spot[] = []
  const step = Math.max(1, Math.floor(spots.length / 90))
  for (let i = 0; i < spots.length; i += step) {
    for (let j = i + step; j < spots.length; j += step) {
      const [a, b] = [spots[i] as Spot, spots[j] as Spot]
      if (Math.hypot(b.middle[0] - a.middle[0], b.middle[1] - a.middle[1]) < 4 * a.halfPx || a.area > 2.5 * b.area || b.area > 2.5 * a.area) continue
      const row = onLine(spots, [a, b])
      if (row.length > best.length) best = row
    }
  }
  const row = alike(best, best)
  return row.length < 5 ? { spots: [], larger: [], among: 0 } : { spots: row, larger: largerOnRow([...other, ...round].filter((s) => usable(s.middle)), row), among: alike(spots, row).length }
}
