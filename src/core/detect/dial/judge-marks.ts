import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { turnBetween } from '#core/detect/plane-map'
import { medianOrZero, robustSpread } from '#core/numeric/median'
import { inTurn } from '#core/detect/stroke/touching'
import { seenWidth, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { broadKind, inkOf, isOfKind, longKind, type SecondKind } from './second-kind.ts'

/** Middle and spread of what the marks have in common. */
export interface Likeness {
  readonly width: readonly [middle: number, spread: number]
  readonly contrast: readonly [middle: number, spread: number]
  readonly lean: readonly [middle: number, spread: number]
  readonly length: readonly [middle: number, spread: number]
  readonly inner: readonly [middle: number, spread: number]
  /** How far the middle line is from straight, px. */
  readonly sagitta: readonly [middle: number, spread: number]
  /** Width with its blur, px. */
  readonly seen: number
  /** Marks drawn broader, or longer, than most and alike; null where there are none. */
  readonly broad: SecondKind | null
  readonly long: SecondKind | null
}

const middleAndSpread = (values: readonly number[], least: number): readonly [number, number] => {
  const middle = medianOrZero(values)
  return [middle, Math.max(least, robustSpread(values, middle))]
}

/** From the chord's middle to the middle line, px. */
const sagittaOf = ({ fit: { model } }: FittedMark): number => 1.5 * Math.abs(model.bow[2])

export const likenessOf = (marks: readonly FittedMark[]): Likeness => {
  const [ink] = middleAndSpread(marks.map(inkOf), 0)
  const length = marks.map((m) => m.outer - m.inner)
  const [usual] = middleAndSpread(length, 0)
  const width = middleAndSpread(marks.map((m) => m.widthPx), 0.3)
  const lean = middleAndSpread(marks.map((m) => m.lean), 0.006)
  const most = { width: width[0], ink, length: usual, lean: lean[0] }
  return {
    width,
    lean,
    broad: broadKind(marks, most),
    long: longKind(marks, most),
    contrast: middleAndSpread(marks.map(inkOf), 0.12 * ink),
    length: middleAndSpread(length, 0.15 * usual),
    sagitta: middleAndSpread(marks.map(sagittaOf), 0.2),
    seen: medianOrZero(marks.map((m) => seenWidth(m.fit.model))),
    inner: middleAndSpread(marks.map((m) => m.inner), 0.15 * usual),
  }
}

/** Is it one of several that are broader than most and alike? */
export const isBroad = (m: FittedMark, like: Likeness): boolean => m.widthPx > 1.5 * like.width[0] && isOfKind(m.widthPx, like.broad)

const isLong = (m: FittedMark, like: Likeness): boolean => isOfKind(m.outer - m.inner, like.long)

const isDark = (m: FittedMark, like: Likeness): boolean => !isBroad(m, like) && inkOf(m) > 4 * like.contrast[0]
const isWide = (m: FittedMark, like: Likeness): boolean => !isBroad(m, like) && m.widthPx > 2.5 * like.width[0] + 1.5

/** Is it too broad or too dark for a pen stroke among these? */
export const hasTooMuchInk = (m: FittedMark, like: Likeness): boolean => isDark(m, like) || isWide(m, like)

/** What is said of a stroke that has too little ink among the others. */
export const TOO_FAINT = 'too faint'

/** Why a fitted stroke cannot be a mark; null when it can. */
export const objectionTo = (m: FittedMark, like: Likeness): string | null => {
  const length = m.outer - m.inner
  if (!(m.fit.uOffset < 0.5 * Math.max(1.5, like.width[0]))) return 'too faint to place'
  if (inkOf(m) < 0.22 * like.contrast[0]) return TOO_FAINT
  if (isDark(m, like)) return 'too broad and dark'
  if (isWide(m, like)) return 'too wide: a pointer or a shadow'
  if (Math.abs(m.lean - like.lean[0]) > Math.max(0.07, 5 * like.lean[1]) + like.width[0] / Math.max(1, 4 * m.fit.model.halfLength)) return 'does not point at the centre'
  if (length < 0.3 * like.length[0]) return 'too short'
  if (!isLong(m, like) && length > 2.2 * like.length[0] && length > like.length[0] + 6 * like.length[1]) return 'too long: a ruled line, a fold or the pointer'
  return null
}

const excess = (value: number, [middle, spread]: readonly [number, number], free: number): number => Math.max(0, Math.abs(value - middle) / spread - free)

/** A piece of a round stain is this much broader than most strokes as it is seen, yet no richer in ink, and bowed by this share of its length and more than most by so many spreads. */
const STAIN_BROADER = 1.4
const STAIN_INK = 1.25
const BOWED = 0.02
const BOWED_SPREADS = 4
const OF_A_STAIN = 0.4

const isOfStain = (m: FittedMark, like: Likeness): boolean =>
  seenWidth(m.fit.model) > STAIN_BROADER * like.seen && inkOf(m) < STAIN_INK * like.contrast[0] && sagittaOf(m) > BOWED * 2 * m.fit.model.halfLength && excess(sagittaOf(m), like.sagitta, BOWED_SPREADS) > 0

/** Marks unlike most but like each other are a little less sure. */
const OF_ITS_KIND = 0.8

/**
 * How surely a stroke is one of the marks, 0 … 1: near 1 for strokes like their fellows, halved for each trait that stands out
 * by some four spreads. A figure of merit, not a probability.
 */
export const confidenceOf = (m: FittedMark, like: Likeness): number => {
  const broad = isBroad(m, like)
  const long = isLong(m, like)
  const odd =
    Math.max(
      broad ? OF_ITS_KIND : excess(m.widthPx, like.width, 3.5) * 0.25 + Math.max(0, m.widthPx / (like.width[0] + 0.5) - 1.7) * 2.5,
      long ? OF_ITS_KIND : 0,
    ) +
    (long ? 0 : Math.max(0, (m.outer - m.inner) / like.length[0] - 1.8) * 1.5) +
    Math.max(0, like.contrast[0] * 0.45 - inkOf(m)) / (0.2 * like.contrast[0]) +
    excess(m.lean, like.lean, 3.5) * 0.3 +
    Math.max(0, (0.5 * like.length[0] - (m.outer - m.inner)) / (0.15 * like.length[0])) +
    Math.max(0, m.fit.outliers - 0.3) * 4 +
    Math.max(0, (m.fit.uOffset / Math.max(1, like.width[0]) - 0.08) * 8)
  return (isOfStain(m, like) ? OF_A_STAIN : 1) / (1 + 0.03 * Math.exp(1.6 * odd))
}

/** How many usual ones a size stands for, 1 … 4: more than one from so many usual sizes and four spreads beyond the usual on. */
const timesUsual = (size: number, [usual, spread]: readonly [number, number], least: number): number =>
  size < least * usual || size - usual < 4 * spread ? 1 : Math.max(2, Math.min(4, Math.round(size / usual)))

/** A hand that presses leaves more ink too, but no wider a stroke. */
const SPREAD = 1.08

/**
 * Rest positions that a stroke wider than its fellows may hold, 2 from 1.5 usual widths on, one more per further width; or one with
 * as much more ink that is seen a little wider, as strokes side by side are even where the blur hides that there are two. Strokes that
 * run into each other come out unequally broad; several that are broad and alike were drawn so, and hold one each.
 * @param seen width with its blur, over that of the strokes beside it
 */
export const multiplicityOf = (m: FittedMark, like: Likeness, seen: number): number =>
  isBroad(m, like) || m.fit.outliers > 0.3 ? 1 : Math.max(timesUsual(m.widthPx, like.width, 1.5), seen < SPREAD ? 1 : timesUsual(inkOf(m), like.contrast, 1.6))

/**
 * How far along a stroke the middle of its ink may be off, as a share of its length: ink that shades unevenly, and a slanting view that
 * was not told exactly (seen on rendered pens, scripts/bench/detect.ts; no source).
 */
const SHADED = 0.005
/** A stroke longer or shorter than the others by more than 2.5 spreads ends, two times in five, where something crosses or covers it: its middle is off by half of what is odd. */
const USUAL_SPREADS = 2.5
const OF_LENGTH = 0.5 * Math.sqrt(2 / 5)

/** Standard uncertainty of the place of a stroke's middle along it, as a share of its length. */
export const alongDoubt = (m: FittedMark, like: Likeness): number => {
  const length = m.outer - m.inner
  const odd = isLong(m, like) ? 0 : Math.max(0, Math.abs(length - like.length[0]) - USUAL_SPREADS * like.length[1])
  return Math.hypot(SHADED, (OF_LENGTH * odd) / length)
}

/** A stroke that leans unlike the others may have gone over from one of two that touch to the other: half of what its end is off by moves its middle. */
const OF_LEAN = 0.5

/** Standard uncertainty of a stroke's sideways place for how unlike the others it leans, px. */
export const leanDoubtPx = (m: FittedMark, like: Likeness): number =>
  OF_LEAN * m.fit.model.halfLength * Math.max(0, Math.abs(m.lean - like.lean[0]) - USUAL_SPREADS * like.lean[1])

/** A mark that took in another fit of its ink may lie anywhere between the two, by their shares of it; px aside. */
const takenIn = (mark: FittedMark, share: number, asidePx: number): FittedMark => ({ ...mark, fit: { ...mark.fit, uOffset: Math.hypot(mark.fit.uOffset, share * asidePx) } })

/** One stroke that does not aim at the shaft may be seen as two, one farther out and at another bearing: the lines that they lie on miss each other's middle by less than this share of their width, and one goes on where the other ends, within this share of its length. */
const ON_ONE_LINE = 1.1
const END_TO_END = 0.25

const arePieces = ({ fit: { model: a }, widthPx }: FittedMark, { fit: { model: b } }: FittedMark): boolean => {
  const missPx = (line: StrokeModel, { middle }: StrokeModel): number => Math.abs((middle[1] - line.middle[1]) * line.along[0] - (middle[0] - line.middle[0]) * line.along[1])
  const gapPx = Math.hypot(b.middle[0] - a.middle[0], b.middle[1] - a.middle[1]) - a.halfLength - b.halfLength
  return inTurn(a, b) && gapPx < END_TO_END * 2 * Math.min(a.halfLength, b.halfLength) && Math.min(missPx(a, b), missPx(b, a)) < ON_ONE_LINE * widthPx
}

/** Of two fits for the same ink, the one with the smaller part is dropped, and its place counts as the other's doubt. Marks in order of bearing. */
export const dropTwins = (marks: readonly FittedMark[], pxPerUnit: number): { readonly kept: FittedMark[]; readonly twins: FittedMark[] } => {
  const kept: FittedMark[] = []
  const twins: FittedMark[] = []
  const amount = (m: FittedMark): number => inkOf(m) * (m.outer - m.inner)
  for (const mark of [...marks].sort((a, b) => amount(b) - amount(a))) {
    const radius = (mark.inner + mark.outer) / 2
    const asidePx = (k: FittedMark): number => Math.abs(turnBetween(k.bearing, mark.bearing)) * Math.min(radius, (k.inner + k.outer) / 2) * pxPerUnit
    const first = kept.findIndex((k) => (Math.abs(turnBetween(k.bearing, mark.bearing)) < Math.PI / 2 && arePieces(k, mark)) || asidePx(k) < 0.55 * Math.max(1.2, Math.min(k.widthPx, mark.widthPx) + 0.6 * mark.fit.model.sigma))
    const twin = kept[first]
    if (twin === undefined) kept.push(mark)
    else {
      twins.push(mark)
      kept[first] = takenIn(twin, amount(mark) / (amount(mark) + amount(twin)), asidePx(twin))
    }
  }
  return { kept: kept.sort((a, b) => a.bearing - b.bearing), twins }
}
