import { findPointer, type Pointer } from './find-pointer.ts'
import type { FittedMark } from './fitted-mark.ts'
import { confidenceOf, isBroad, type Likeness, likenessOf } from './judge-marks.ts'
import { goesOn } from '#core/detect/stroke/goes-on'
import { oneSidedness } from '#core/detect/stroke/one-sidedness'
import { type PlaneMap, pxPerUnitAt, toPhoto, turnBetween } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/sheet/sample'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { median } from '#core/numeric/median'

/** Marks less sure than this are listed as doubtful. */
export const SURE = 0.5

/** A stroke along what lies over the paper, with paper on one side only, is more likely its edge than a mark. */
const EDGE = 0.4
/** One side darker than the other by more than this share of the stroke's darkness. */
const ONE_SIDED = 0.6

/** And so is a broad one on its line: perhaps its tip. */
const ON_LINE = 0.06

const liesAlong = (raster: Raster, mark: FittedMark, { bearing, halfWidth }: Pointer, like: Likeness): boolean => {
  const aside = Math.abs(turnBetween(mark.bearing, bearing))
  return isBroad(mark, like) ? aside < Math.max(ON_LINE, 1.2 * halfWidth) : aside < 1.2 * halfWidth && oneSidedness(raster, mark.fit.model) > ONE_SIDED
}

/** Nearer to its middle line than this share of its half width, and all along this much broader than strokes are, it is that thing's own tip. */
const CENTRAL = 0.6
const BROADER = 1.4
/** A thing broader than this to either side where the ring begins has no tip among the marks, rad. */
const SLIM = 0.09
/** One thing has one tip of two edges: where more strokes look so, they are marks that touch. */
const MOST_TIPS = 2
/** Where the paper beside it is looked at, in widths of a stroke, and how much brighter or darker than that it is over all of its width. */
const FARTHEST = 4
const BESIDE = [4, 5, 6, 7, 8]
const DIFFERENT = 0.055

/** Over how many widths of a stroke what is seen at τ of it differs from the paper. */
const widthsAt = (raster: Raster, { model }: FittedMark['fit'], tau: number, width: number): number => {
  const [x, y] = centreLineAt(model, tau)
  const at = (widths: number): number => greyAt(raster, [x - widths * width * model.along[1], y + widths * width * model.along[0]])
  const paper = median(BESIDE.flatMap((k) => [at(k), at(-k)]).filter((v) => !Number.isNaN(v)))
  const reach = (sign: 1 | -1): number => {
    let widths = 0
    while (widths < FARTHEST && Math.abs(at(sign * widths) / paper - 1) > DIFFERENT) widths += 0.1
    return widths
  }
  return reach(1) + reach(-1)
}

/** Which strokes are the end of what lies over the paper. */
const tipsAmong = (raster: Raster, marks: readonly FittedMark[], { bearing, halfWidth }: Pointer, like: Likeness): ReadonlySet<FittedMark> => {
  if (halfWidth > SLIM) return new Set()
  const width = like.width[0] + 2 * median(marks.map(({ fit }) => fit.model.sigma))
  const tips = marks.filter(({ fit, bearing: own }) => Math.abs(turnBetween(own, bearing)) < CENTRAL * halfWidth && [-0.8, -0.4, 0, 0.4, 0.8].every((tau) => widthsAt(raster, fit, tau, width) > BROADER))
  return new Set(tips.length > MOST_TIPS ? [] : tips)
}

/** A stroke whose line goes on this dark beyond it is more likely a piece of a rule, a fold or a pen line; where more than this share do, marks were cut short. */
const ON = 0.4
const MOST_ON = 0.1
const PIECE = 0.4

/** Which marks look like pieces of longer lines. */
const piecesAmong = (raster: Raster, marks: readonly FittedMark[]): ReadonlySet<FittedMark> => {
  const pieces = marks.filter((m) => goesOn(raster, m.fit.model) > ON)
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
  const pieces = piecesAmong(raster, marks)
  const tips = pointer === null ? new Set() : tipsAmong(raster, marks, pointer, like)
  const covered = (m: FittedMark): number => (tips.has(m) ? 0 : pointer !== null && liesAlong(raster, m, pointer, like) ? EDGE : 1)
  return { pointer, sureness: marks.map((m) => confidenceOf(m, like) * covered(m) * (pieces.has(m) ? PIECE : 1)) }
}
