import { median } from '#core/numeric/median'
import { greyAt } from '#core/detect/grey-at'
import { type PlaneMap, toPhoto, turnBetween } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { runsRound } from './runs-round.ts'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { Likeness } from './judge-marks.ts'
import { centreLineAt } from '#core/detect/stroke/stroke-model'

/** Something broad and straight that reaches from near the shaft to the ring of marks: rad, counter-clockwise as seen. */
export interface Pointer {
  readonly bearing: number
  readonly halfWidth: number
}

export const BEARINGS = 720
/** Looked at between these shares of the marks' inner radius. */
const FROM = 0.55
const TO = 0.93
const RADII = 12
/** Differs from the paper beside it by more than this share of its brightness. */
const DIFFERENT = 0.055
/** At no fewer than this share of the radii. */
const UNBROKEN = 0.8
/** Wider, or narrower, it is none, rad. */
const WIDEST = 0.35

/** The paper's brightness is looked at once in so many bearings: it changes little from one to the next. */
const EVERY = 6

/** Brightness at one radius over that of the paper round about: the median over a tenth of the turn to either side. */
export const differences = (raster: Raster, map: PlaneMap, centre: Point, r: number): number[] => {
  const values = Array.from({ length: BEARINGS }, (_, i) => {
    const angle = (2 * Math.PI * i) / BEARINGS
    return greyAt(raster, toPhoto(map, [centre[0] + r * Math.cos(angle), centre[1] - r * Math.sin(angle)]))
  })
  const thinned = values.filter((_, i) => i % EVERY === 0)
  const reach = thinned.length / 10
  const paper = thinned.map((_, i) => median(Array.from({ length: 2 * reach + 1 }, (__, k) => thinned.at((i + k - reach) % thinned.length) as number).filter((v) => !Number.isNaN(v))))
  return values.map((value, i) => value / (paper[Math.floor(i / EVERY)] as number) - 1)
}

/**
 * What lies over the paper from the shaft to the marks, as a pointer does; null when nothing does.
 * @param inner radius where the marks begin, plane units
 * @param least width at the ring that is not a drawn line, plane units
 */
export const findPointer = (raster: Raster, map: PlaneMap, { centre, inner, least }: { readonly centre: Point; readonly inner: number; readonly least: number }): Pointer | null => {
  const rings = Array.from({ length: RADII }, (_, k) => differences(raster, map, centre, inner * (FROM + ((TO - FROM) * k) / (RADII - 1))))
  const covered = Array.from({ length: BEARINGS }, (_, i) => rings.filter((ring) => Math.abs(ring[i] as number) > DIFFERENT).length >= UNBROKEN * RADII)
  let best: Pointer | null = null
  for (const [from, to] of runsRound(covered)) {
    const halfWidth = (Math.PI * (to - from)) / BEARINGS
    const bearing = (2 * Math.PI * ((from + to - 1) / 2)) / BEARINGS
    if (2 * halfWidth * inner * TO > least && halfWidth < WIDEST / 2 && (best === null || halfWidth > best.halfWidth)) best = { bearing: Math.atan2(Math.sin(bearing), Math.cos(bearing)), halfWidth }
  }
  return best
}

/** Nearer to its middle line than this share of its half width, and all along this much broader than strokes are, it is that thing's own tip. */
const CENTRAL = 0.6
const BROADER = 1.4
/** A thing broader than this to either side where the ring begins has no tip among the marks, rad. */
const SLIM = 0.09
/** One thing has one tip of two edges: where more strokes look so, they are marks that touch. */
const MOST_TIPS = 2
/** Where the paper beside it is looked at, in widths of a stroke. */
const FARTHEST = 4
const BESIDE = [4, 5, 6, 7, 8]

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

/** Which strokes round a shaft are the end of what lies over the paper, and no marks: at most two, none where it is broad. */
export const tipsAmong = (raster: Raster, marks: readonly FittedMark[], { bearing, halfWidth }: Pointer, like: Likeness): ReadonlySet<FittedMark> => {
  if (halfWidth > SLIM) return new Set()
  const width = like.width[0] + 2 * median(marks.map(({ fit }) => fit.model.sigma))
  const tips = marks.filter(({ fit, bearing: own }) => Math.abs(turnBetween(own, bearing)) < CENTRAL * halfWidth && [-0.8, -0.4, 0, 0.4, 0.8].every((tau) => widthsAt(raster, fit, tau, width) > BROADER))
  return new Set(tips.length > MOST_TIPS ? [] : tips)
}
