import { findPointer, type Pointer, tipsAmong } from './pointer.ts'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { confidenceOf, isBroad, type Likeness, likenessOf } from './judge-marks.ts'
import { goesOn, ON, sideStep } from '#core/detect/stroke/around-stroke'
import { type PlaneMap, pxPerUnitAt, toPhoto, turnBetween } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { endAwayFrom } from '#core/detect/stroke/stroke-model'
import { isClean } from './under-cover.ts'

/** Marks less sure than this are listed as doubtful. */
export const SURE = 0.5

/** A stroke along what lies over the paper, with paper on one side only, is more likely its edge than a mark. */
const EDGE = 0.4
/** One side darker than the other by more than this share of the stroke's darkness. */
const ONE_SIDED = 0.6

/** And so is a broad one on its line: perhaps its tip. */
const ON_LINE = 0.06

/** No farther from the pointer's middle line than so many half widths a stroke may have to do with it. */
const BESIDE = 1.2

/** From the pointer's middle line to a mark, half widths of the pointer. */
const asideOf = (mark: FittedMark, { bearing, halfWidth }: Pointer): number => Math.abs(turnBetween(mark.bearing, bearing)) / halfWidth

const liesAlong = (raster: Raster, mark: FittedMark, pointer: Pointer, like: Likeness): boolean => {
  const aside = asideOf(mark, pointer)
  return isBroad(mark, like) ? aside < Math.max(ON_LINE / pointer.halfWidth, BESIDE) : aside < BESIDE && Math.abs(sideStep(raster, mark.fit.model)) > ONE_SIDED
}

/** Where more than this share of the strokes go on as pieces of longer lines do, marks were cut short. */
const MOST_ON = 0.1
const PIECE = 0.4

/** Which marks look like pieces of longer lines; those that the pointer stands before by how they go on away from the shaft. */
const piecesAmong = (raster: Raster, marks: readonly FittedMark[], shaft: Point, isBeforePointer: (m: FittedMark) => boolean): ReadonlySet<FittedMark> => {
  const ways = (m: FittedMark): readonly (-1 | 1)[] => (isBeforePointer(m) ? [endAwayFrom(m.fit.model, shaft)] : [-1, 1])
  const pieces = marks.filter((m) => goesOn(raster, m.fit.model, ways(m)) > ON)
  return new Set(pieces.length > Math.max(1, MOST_ON * marks.length) ? [] : pieces)
}

/** How sure the marks are, in their order, and what lies over the paper from the shaft to them. */
export interface Sureness {
  readonly pointer: Pointer | null
  /** 0: no mark, but the end of the pointer. */
  readonly sureness: readonly number[]
}

/** Tells marks from each other by their likeness, by how their lines go on and by what lies over the paper; fewer than three marks show no pointer. */
export const surenessOf = (raster: Raster, marks: readonly FittedMark[], map: PlaneMap, centre: Point): Sureness => {
  const like = likenessOf(marks)
  const inner = marks.map((m) => m.inner).sort((p, q) => p - q)[marks.length >> 2] as number
  const least = (1.5 * like.width[0]) / pxPerUnitAt(map, toPhoto(map, centre))
  const pointer = marks.length < 3 ? null : findPointer(raster, map, { centre, inner, least })
  const pieces = piecesAmong(raster, marks, toPhoto(map, centre), (m) => pointer !== null && asideOf(m, pointer) < BESIDE && isClean(m, like))
  const tips = pointer === null ? new Set() : tipsAmong(raster, marks, pointer, like)
  const covered = (m: FittedMark): number => (tips.has(m) ? 0 : pointer !== null && liesAlong(raster, m, pointer, like) ? EDGE : 1)
  return { pointer, sureness: marks.map((m) => confidenceOf(m, like) * covered(m) * (pieces.has(m) ? PIECE : 1)) }
}
