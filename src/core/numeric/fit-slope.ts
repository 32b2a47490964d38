/** A straight line through values y over places x: height at the places' mean, and slope. */
export interface Slope {
  readonly mean: number
  readonly height: number
  readonly slope: number
  /** Weighted sum of squared distances of the places from their mean: a slope's variance is that of one value over it. */
  readonly spread: number
}

/**
 * Straight line of least weighted squares, errors in y only; the slope is NaN where all places are one.
 * @param weights 1 each unless given
 */
export const fitSlope = (x: readonly number[], y: readonly number[], weights: readonly number[] = x.map(() => 1)): Slope => {
  const total = (of: (i: number) => number): number => weights.reduce((sum, w, i) => sum + w * of(i), 0)
  const all = total(() => 1)
  const mean = total((i) => x[i] as number) / all
  const height = total((i) => y[i] as number) / all
  const spread = total((i) => ((x[i] as number) - mean) ** 2)
  return { mean, height, slope: total((i) => ((x[i] as number) - mean) * ((y[i] as number) - height)) / spread, spread }
}
