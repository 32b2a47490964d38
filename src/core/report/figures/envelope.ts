/** Lowest and highest of a stretch of neighbouring values. */
export interface Stretch {
  readonly from: number
  readonly to: number
  readonly low: number
  readonly high: number
}

/**
 * Values in order → at most `most` stretches of equal length, each with its extremes, so that no peak is lost however
 * coarse the picture. One value per stretch where there is room for all.
 * @param lows,highs the same value twice, or the ends of an interval
 */
export const envelopeOf = (lows: readonly number[], highs: readonly number[], most: number): readonly Stretch[] => {
  const size = Math.max(1, Math.ceil(lows.length / most))
  const stretches: Stretch[] = []
  for (let from = 0; from < lows.length; from += size) {
    const to = Math.min(lows.length, from + size) - 1
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (let i = from; i <= to; i++) {
      low = Math.min(low, lows[i] ?? Number.POSITIVE_INFINITY)
      high = Math.max(high, highs[i] ?? Number.NEGATIVE_INFINITY)
    }
    stretches.push({ from, to, low, high })
  }
  return stretches
}
