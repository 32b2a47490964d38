/** Sum with Neumaier's compensation, so long columns of nearly equal numbers keep their last digits. */
export const sum = (values: readonly number[]): number => {
  let total = 0
  let lost = 0
  for (const value of values) {
    const next = total + value
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total
    total = next
  }
  return total + lost
}

/** Arithmetic mean; NaN for nothing. */
export const mean = (values: readonly number[]): number => sum(values) / values.length

/** Mean of squares; NaN for nothing. */
export const meanSquare = (values: readonly number[]): number => sum(values.map((value) => value * value)) / values.length

/** Root mean square; NaN for nothing. */
export const rms = (values: readonly number[]): number => Math.sqrt(meanSquare(values))

/** Sample standard deviation (n − 1), two passes; NaN for fewer than two values. */
export const standardDeviation = (values: readonly number[]): number => {
  const centre = mean(values)
  return values.length < 2 ? Number.NaN : Math.sqrt(sum(values.map((value) => (value - centre) ** 2)) / (values.length - 1))
}

/** Lowest and highest, in one pass without spreading a long array onto the stack; [∞, −∞] for nothing. */
export const extremes = (values: readonly number[]): readonly [lowest: number, highest: number] => {
  let lowest = Number.POSITIVE_INFINITY
  let highest = Number.NEGATIVE_INFINITY
  for (const value of values) {
    if (value < lowest) lowest = value
    if (value > highest) highest = value
  }
  return [lowest, highest]
}

/** Quantile by linear interpolation between order statistics of an ascending array; NaN for nothing. */
export const quantileOfSorted = (ascending: readonly number[], probability: number): number => {
  const place = probability * (ascending.length - 1)
  const below = Math.floor(place)
  const lower = ascending[below] ?? Number.NaN
  const upper = ascending[Math.min(below + 1, ascending.length - 1)] ?? Number.NaN
  return lower + (place - below) * (upper - lower)
}
