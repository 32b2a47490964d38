import { distinctAngles } from './positions-told-apart.ts'

/** Gap-effective count with its 95 % interval. */
export interface GapEffective {
  readonly value: number
  readonly interval: readonly [low: number, high: number]
}

export interface GapOptions {
  readonly fullStepDeg: number
  /** Standard uncertainty of a rest, deg. */
  readonly uDeg: number
  /** Coverage factor of the interval. */
  readonly coverageFactor: number
  /** Rests no farther apart than this count as one, deg. */
  readonly expandedDeg: number
  /** Relative standard uncertainty that all gaps share; 0 where left out. */
  readonly scaleU?: number
}

/** Gaps between those of the rests, in ascending order, that can be told apart; deg. */
const distinctGaps = (sorted: readonly number[], expandedDeg: number): number[] => {
  const distinct = distinctAngles(sorted, expandedDeg)
  return distinct.slice(1).map((angle, i) => angle - (distinct[i] as number))
}

interface Met {
  /** Mean square gap met by a wanted angle drawn from the whole span, Σg³/Σg, deg², and its standard uncertainty from marks and scale. */
  readonly square: number
  readonly u: number
  readonly span: number
}

const met = (gaps: readonly number[], uDeg: number, scaleU: number): Met => {
  const span = gaps.reduce((sum, gap) => sum + gap, 0)
  const square = gaps.reduce((sum, gap) => sum + gap ** 3, 0) / span
  // A rest that moves on lengthens the gap before it and shortens the one behind it.
  const slope = (i: number): number => (i < 0 || i >= gaps.length ? 0 : (3 * (gaps[i] as number) ** 2 - square) / span)
  const ofMarks = uDeg * Math.hypot(...Array.from({ length: gaps.length + 1 }, (_, i) => slope(i - 1) - slope(i)))
  return { square, u: Math.hypot(ofMarks, 2 * scaleU * square), span }
}

/**
 * Gap-effective count α/√(Σg³/Σg) over the distinct gaps: what a controller that knew every rest could use.
 * Its interval: by first order from the rests' u and the scale. Below, rests that could not be told apart stay one; above,
 * every rest counts, and what the marks' scatter adds to a mean square gap, 6u², is taken off, but no gaps are more even than even ones.
 * @returns null where all rests are one
 */
export const gapEffective = (anglesDeg: readonly number[], { fullStepDeg, uDeg, coverageFactor, expandedDeg, scaleU = 0 }: GapOptions): GapEffective | null => {
  const sorted = anglesDeg.toSorted((a, b) => a - b)
  const gaps = distinctGaps(sorted, expandedDeg)
  if (gaps.length === 0) return null
  const count = (square: number): number => fullStepDeg / Math.sqrt(square)
  const told = met(gaps, uDeg, scaleU)
  const all = distinctGaps(sorted, 0)
  const every = met(all, uDeg, scaleU)
  const leastSpan = every.span - coverageFactor * Math.hypot(Math.SQRT2 * uDeg, scaleU * every.span)
  const least = Math.min(told.square, Math.max((leastSpan / all.length) ** 2, every.square - 6 * uDeg ** 2 - coverageFactor * every.u))
  return { value: count(told.square), interval: [count(told.square + coverageFactor * told.u), count(least)] }
}
