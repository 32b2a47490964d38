import type { FittedMark } from './fitted-mark.ts'
import { turnBetween } from '#core/detect/plane-map'
import { broadKind, isOfKind, longKind, type SecondKind } from './second-kind.ts'

/** Middle and spread of what the marks have in common. */
export interface Likeness {
  readonly width: readonly [middle: number, spread: number]
  readonly contrast: readonly [middle: number, spread: number]
  readonly lean: readonly [middle: number, spread: number]
  readonly length: readonly [middle: number, spread: number]
  readonly inner: readonly [middle: number, spread: number]
  /** Marks drawn broader, or longer, than most and alike; null where there are none. */
  readonly broad: SecondKind | null
  readonly long: SecondKind | null
}

const middleAndSpread = (values: readonly number[], least: number): readonly [number, number] => {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted[sorted.length >> 1] ?? 0
  const off = sorted.map((v) => Math.abs(v - middle)).sort((a, b) => a - b)
  return [middle, Math.max(least, 1.4826 * (off[off.length >> 1] ?? 0))]
}

/** Ink per length: what does not change when blur and width trade places. */
const inkOf = (m: FittedMark): number => m.contrast * m.widthPx

export const likenessOf = (marks: readonly FittedMark[]): Likeness => {
  const [ink] = middleAndSpread(marks.map(inkOf), 0)
  const length = marks.map((m) => m.outer - m.inner)
  const [usual] = middleAndSpread(length, 0)
  const width = middleAndSpread(marks.map((m) => m.widthPx), 0.3)
  const lean = middleAndSpread(marks.map((m) => m.lean), 0.006)
  const most = { width: width[0], length: usual, lean: lean[0] }
  return {
    width,
    lean,
    broad: broadKind(marks, most),
    long: longKind(marks, most),
    contrast: middleAndSpread(marks.map(inkOf), 0.12 * ink),
    length: middleAndSpread(length, 0.15 * usual),
    inner: middleAndSpread(marks.map((m) => m.inner), 0.15 * usual),
  }
}

/** Is it one of several that are broader than most and alike? */
export const isBroad = (m: FittedMark, like: Likeness): boolean => m.widthPx > 1.5 * like.width[0] && isOfKind(m.widthPx, like.broad)

const isLong = (m: FittedMark, like: Likeness): boolean => isOfKind(m.outer - m.inner, like.long)

/** Why a fitted stroke cannot be a mark; null when it can. */
export const objectionTo = (m: FittedMark, like: Likeness): string | null => {
  const length = m.outer - m.inner
  const broad = isBroad(m, like)
  if (!(m.fit.uOffset < 0.5 * Math.max(1.5, like.width[0]))) return 'too faint to place'
  if (inkOf(m) < 0.22 * like.contrast[0]) return 'too faint'
  if (!broad && inkOf(m) > 4 * like.contrast[0]) return 'too broad and dark'
  if (!broad && m.widthPx > 2.5 * like.width[0] + 1.5) return 'too wide: a pointer or a shadow'
  if (Math.abs(m.lean - like.lean[0]) > Math.max(0.07, 5 * like.lean[1]) + like.width[0] / Math.max(1, 4 * m.fit.model.halfLength)) return 'does not point at the centre'
  if (length < 0.3 * like.length[0]) return 'too short'
  if (!isLong(m, like) && length > 2.2 * like.length[0] && length > like.length[0] + 6 * like.length[1]) return 'too long: a ruled line, a fold or the pointer'
  return null
}

const excess = (value: number, [middle, spread]: readonly [number, number], free: number): number => Math.max(0, Math.abs(value - middle) / spread - free)

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
  return 1 / (1 + 0.03 * Math.exp(1.6 * odd))
}

/**
 * Rest positions that a stroke wider than its fellows may hold: 2 from 1.5 usual widths on, one more per further width. Strokes
 * that run into each other come out unequally broad; several that are broad and alike were drawn so, and hold one each.
 */
export const multiplicityOf = (m: FittedMark, like: Likeness): number => {
  const [usual, spread] = like.width
  const share = m.widthPx / usual
  return isBroad(m, like) || share < 1.5 || m.widthPx - usual < 4 * spread || m.fit.outliers > 0.3 ? 1 : Math.max(2, Math.min(4, Math.round(share)))
}

/** Of two fits for the same ink, the one with the smaller part is dropped. Marks in order of bearing. */
export const dropTwins = (marks: readonly FittedMark[], pxPerUnit: number): { readonly kept: FittedMark[]; readonly twins: FittedMark[] } => {
  const kept: FittedMark[] = []
  const twins: FittedMark[] = []
  const amount = (m: FittedMark): number => inkOf(m) * (m.outer - m.inner)
  for (const mark of [...marks].sort((a, b) => amount(b) - amount(a))) {
    const radius = (mark.inner + mark.outer) / 2
    const twin = kept.some((k) => {
      const turn = Math.abs(turnBetween(k.bearing, mark.bearing))
      return turn * Math.min(radius, (k.inner + k.outer) / 2) * pxPerUnit < 0.55 * Math.max(1.2, Math.min(k.widthPx, mark.widthPx) + 0.6 * mark.fit.model.sigma)
    })
    if (twin) twins.push(mark)
    else kept.push(mark)
  }
  return { kept: kept.sort((a, b) => a.bearing - b.bearing), twins }
}
