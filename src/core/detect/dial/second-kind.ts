import { medianOrZero, robustSpread } from '#core/numeric/median'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { meanAmplitude, peakDarkness } from '#core/detect/stroke/stroke-model'

/** Marks drawn on purpose unlike the rest, as every tenth may be: middle and spread of what they have in common, and how many. */
export interface SecondKind {
  readonly middle: number
  readonly spread: number
  readonly count: number
}

/** Of the marks that are unlike most this share must be alike: strokes that run into each other come out in all sizes. */
const SHARED = 0.6
/** Fewer than this that are alike may be chance, or one pointer's pieces. */
const FEWEST = 3
/** Alike: within this share of each other. */
const ALIKE = 0.2
/** And with an end on the same radius, to this share of their length. */
const ABREAST = 0.35

interface Usual {
  readonly width: number
  /** Width times darkness, see inkOf. */
  readonly ink: number
  readonly length: number
  readonly lean: number
}

/** Ink per length: what does not change when blur and width trade places. */
export const inkOf = (m: FittedMark): number => m.contrast * m.widthPx

/** A broader pen leaves at least so many times as much ink. */
const INKED = 1.35

const lengthOf = (m: FittedMark): number => m.outer - m.inner

/** Darkness in the middle of the stroke, grey levels over those of the paper. */
const peakOf = ({ fit: { model, paper } }: FittedMark): number => peakDarkness(model) / Math.max(10, paper)

const abreast = (a: FittedMark, b: FittedMark): boolean => Math.min(Math.abs(a.inner - b.inner), Math.abs(a.outer - b.outer)) < ABREAST * Math.min(lengthOf(a), lengthOf(b))

/** The most marks that are alike in size and stand abreast; null when they are few. */
const mostAlike = (marks: readonly FittedMark[], sizeOf: (m: FittedMark) => number): SecondKind | null => {
  const groups = marks.map((seed) => marks.filter((m) => Math.abs(sizeOf(m) - sizeOf(seed)) < ALIKE * sizeOf(seed) && abreast(m, seed)))
  const [most] = groups.sort((a, b) => b.length - a.length)
  if (most === undefined || most.length < Math.max(FEWEST, SHARED * marks.length)) return null
  const middle = medianOrZero(most.map(sizeOf))
  return { middle, spread: Math.max(0.06 * middle, robustSpread(most.map(sizeOf), middle)), count: most.length }
}

/** Straight even ink that aims at the shaft: what a pen draws, and a pointer, a shadow or a digit is not. */
const drawn = (marks: readonly FittedMark[], usual: Usual): FittedMark[] => {
  const dark = medianOrZero(marks.map(peakOf))
  const blur = medianOrZero(marks.map((m) => m.fit.model.sigma))
  return marks.filter((m) =>
    Math.abs(m.lean - usual.lean) < 0.05 && m.fit.outliers < 0.25 && peakOf(m) > 0.6 * dark && m.fit.model.sigma < 2 * blur + 0.5 && m.fit.noise < 0.2 * meanAmplitude(m.fit.model))
}

/** Marks drawn broader than the rest and alike. */
export const broadKind = (marks: readonly FittedMark[], usual: Usual): SecondKind | null =>
  mostAlike(drawn(marks, usual).filter((m) => m.widthPx > Math.max(1.7 * usual.width, usual.width + 1) && inkOf(m) > INKED * usual.ink && lengthOf(m) > 0.5 * usual.length && lengthOf(m) > 1.2 * m.widthPx), (m) => m.widthPx)

/** Marks drawn longer than the rest and alike. */
export const longKind = (marks: readonly FittedMark[], usual: Usual): SecondKind | null =>
  mostAlike(drawn(marks, usual).filter((m) => lengthOf(m) > 1.6 * usual.length && m.widthPx < 2.5 * usual.width + 1.5), lengthOf)

/** Are these widths those of a broader pen: nearly all alike? Then each stroke is one. */
export const oneBroadPen = (widths: readonly number[]): boolean => {
  const middle = medianOrZero(widths)
  return widths.length >= FEWEST && widths.filter((w) => Math.abs(w - middle) < 0.12 * middle).length >= 0.8 * widths.length
}

/** Is a size one of a second kind's? */
export const isOfKind = (size: number, kind: SecondKind | null): boolean => kind !== null && Math.abs(size - kind.middle) < Math.max(3 * kind.spread, ALIKE * kind.middle)
