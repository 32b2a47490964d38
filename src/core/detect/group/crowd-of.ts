import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { Ring, View } from '#core/detect/dial/left-round'
import { oneBroadPen } from '#core/detect/dial/second-kind'
import { turnBetween } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { isRatherTwo } from '#core/detect/stroke/split-wide'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import { quantile } from '#core/numeric/median'
import type { PenGuess } from './choose-pen.ts'
import { type InkRun, inkRuns, within } from './ink-runs.ts'
import type { Pen } from './stroke-group.ts'

/** Broader strokes, px as seen, are told apart one by one; narrower ones that touch are read together. */
const NARROW = 5.2
/** An inked piece wider than this many strokes as seen may hold more than one. */
export const CROWDED = 1.35
/** Fewer such pieces, or lone strokes, do not tell the pen. */
export const LEAST = 3
/** Fewer than this share are left to be told apart one by one. */
const FEWEST = 0.1
/** And so may all of them, when the marks look broader than pens draw, mm (common practice, no source). */
const BROADEST_MM = 1.1
/** Few photos are sharper than the first, px, and none than the second; a fit may say so where width and blur cannot be told apart. */
const USUAL_BLUR = 0.9
const LEAST_BLUR = 0.65

/** Strokes taken for one look paler than they are, the paper between them counted in, by about this much. */
const PALER = 1.3

/** Corners of the piece of the photo that a run is read in, px. */
const cornersOf = ({ frame: { middle, along, halfLength, reach } }: InkRun): Point[] =>
  [[-1, -1], [-1, 1], [1, -1], [1, 1]].map(([t = 0, s = 0]): Point => [middle[0] + t * halfLength * along[0] - s * reach * along[1], middle[1] + t * halfLength * along[1] + s * reach * along[0]])

const SECTORS = 72

/** Brightness of the paper at a bearing: that beside the nearest marks. */
const paperBeside = (marks: readonly FittedMark[]): ((angle: number) => number) => {
  const sectors = Array.from({ length: SECTORS }, (_, i) => {
    const angle = (2 * Math.PI * i) / SECTORS
    const near = [...marks].sort((p, q) => Math.abs(turnBetween(p.bearing, angle)) - Math.abs(turnBetween(q.bearing, angle))).slice(0, 5)
    return quantile(near.map((m) => m.fit.paper), 0.5)
  })
  return (angle) => sectors[((Math.round((angle / (2 * Math.PI)) * SECTORS) % SECTORS) + SECTORS) % SECTORS] as number
}

/** So many strokes tell whether all are broad or pairs. */
const TELLING = 7

/** Is each of these strokes one, rather than two of this half width, px, side by side? */
export const areSingle = (raster: Raster, marks: readonly FittedMark[], halfWidth: number): boolean => {
  const some = marks.slice(0, TELLING)
  return some.filter((m) => isRatherTwo(raster, m.fit, halfWidth)).length < some.length / 2
}

/** Are these strokes of a second, broader pen, and not pairs of the usual one's, which may be alike too? */
const drawnBroad = (raster: Raster, marks: readonly FittedMark[], { halfWidth }: Pen): boolean =>
  oneBroadPen(marks.map((m) => m.widthPx)) && areSingle(raster, marks, halfWidth)

/** The marks found in these runs one to a run. */
const oneToARun = (marks: readonly FittedMark[], runs: readonly InkRun[]): FittedMark[] =>
  runs.flatMap((run) => {
    const inside = marks.filter((m) => within(run, m.fit.model.middle))
    return inside.length === 1 ? inside : []
  })

/** What round the ring may hold strokes that touch. */
export interface Crowd {
  readonly ring: Ring
  readonly guess: Omit<PenGuess, 'thinnest'>
  /** Brightness of the paper as a rule, grey levels. */
  readonly ground: number
  /** Pieces wider than one stroke, and the others. */
  readonly crowded: readonly InkRun[]
  readonly rest: readonly InkRun[]
  /** Marks that stand alone in one of the others. */
  readonly slim: readonly FittedMark[]
  /** Too few crowded pieces to tell the pen, or hardly any beside the others. */
  readonly few: boolean
  /** The inked pieces as a pen of so much darkness sees them, grey levels. */
  readonly runsOf: (pen: Pen, amplitude: number) => readonly InkRun[]
}

/** A photo with where on it a mark may lie. */
export type UsableView = View & { readonly usable: (px: Point) => boolean }

/**
 * The pieces of the ring whose ink is wider than one stroke, of marks that are only a few px wide.
 * @param pxPerMm null when the scale is not known
 * @returns null where the marks are broader, or each is one of a broad pen's
 */
export const crowdOf = (view: UsableView, marks: readonly FittedMark[], ring: Ring, pxPerMm: number | null): Crowd | null => {
  const widths = marks.map((m) => m.widthPx)
  const broad = pxPerMm !== null && quantile(widths, 0.5) > BROADEST_MM * pxPerMm
  const blur = quantile(marks.map((m) => m.fit.model.sigma), 0.5)
  const halfWidth = Math.min(quantile(widths, 0.25), pxPerMm === null ? Number.POSITIVE_INFINITY : 0.8 * pxPerMm) / 2
  const seen = { halfWidth, sigma: Math.max(USUAL_BLUR, blur) }
  if (seenWidth(seen) > NARROW) return null
  const zone = [quantile(marks.map((m) => m.inner), 0.1), quantile(marks.map((m) => m.outer), 0.9)] as const
  const paper = paperBeside(marks)
  // Groups that were refused one by one leave gaps: a ring that goes more than half way round is looked at all round.
  const round = ring.span > Math.PI ? { ...ring, from: 0, span: 2 * Math.PI } : ring
  const runsOf: Crowd['runsOf'] = (pen, amplitude) =>
    inkRuns(view, { ...round, halfWidthPx: pen.halfWidth, sigmaPx: pen.sigma, amplitude }, zone, paper).filter((run) => cornersOf(run).every(view.usable))
  const runs = runsOf(seen, ring.amplitude)
  const isCrowded = (run: InkRun): boolean => 2 * run.extent > CROWDED * seenWidth(seen)
  const [crowded, rest] = [runs.filter(isCrowded), runs.filter((run) => !isCrowded(run))]
  const alone = oneToARun(marks, crowded)
  // Strokes of a second, broader pen lie by themselves and are alike, as are all strokes of a broad one; strokes that run into each other are not.
  if (broad ? oneBroadPen(widths) : alone.length > 0.8 * crowded.length && drawnBroad(view.raster, alone, seen)) return null
  const few = crowded.length < (broad ? LEAST : Math.max(LEAST, FEWEST * runs.length))
  if (crowded.length === 0 || (few && broad)) return null
  const slim = oneToARun(marks, rest)
  const ground = quantile(marks.map((m) => m.fit.paper), 0.5)
  const guess = { halfWidth, sigmas: blur < USUAL_BLUR ? [USUAL_BLUR, Math.max(LEAST_BLUR, blur)] : [blur], usual: PALER * ring.amplitude, paper: ground }
  return { ring, guess, ground, crowded, rest, slim, few, runsOf }
}
