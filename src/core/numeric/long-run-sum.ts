/**
 * Estimated variance of the sum of a stretch of values that may be correlated with their near neighbours (mean zero):
 * autocovariances under Bartlett's window (Newey & West 1987, Econometrica 55, 703).
 * @param lags the greatest distance at which two values may still have a cause in common
 * @returns the sum of squares for lags = 0; 0 for no values
 */
export const longRunSum = (values: Float64Array, lags: number): number => {
  let total = 0
  for (let lag = 0; lag <= Math.min(lags, values.length - 1); lag++) {
    let sum = 0
    for (let j = lag; j < values.length; j++) sum += (values[j] as number) * (values[j - lag] as number)
    total += (lag === 0 ? 1 : 2 * (1 - lag / (lags + 1))) * sum
  }
  return total
}
