import fCdf from '@stdlib/stats-base-dists-f-cdf'

/** Terms of the Poisson mixture left out together weigh less than this. */
const negligible = 1e-12

/**
 * I_x(n + j, b) for j = 0 … count − 1 with a whole n ≥ 1, from I_x(1, b) = 1 − (1 − x)ᵇ and
 * I_x(a + 1, b) = I_x(a, b) − xᵃ(1 − x)ᵇ / (a·B(a, b)) (DLMF 8.17.20), good to 1e-14: far cheaper than each for itself.
 */
const betaLadder = (x: number, n: number, b: number, count: number): Float64Array => {
  const values = new Float64Array(count)
  const logX = Math.log(x)
  let value = -Math.expm1(b * Math.log1p(-x))
  let logStep = logX + b * Math.log1p(-x) + Math.log(b)
  for (let a = 1; a < n + count; a++) {
    if (a >= n) values[a - n] = Math.max(0, value)
    value -= Math.exp(logStep)
    logStep += logX + Math.log((a + b) / (a + 1))
  }
  return values
}

/** Probabilities of a smaller central ratio with 2·j more degrees of freedom above, j = first … last. */
const centralRatios = (ratio: number, [above, below]: readonly [number, number], [first, last]: readonly [number, number]): Float64Array => {
  if (above % 2 === 0) return betaLadder((ratio * above) / (ratio * above + below), above / 2 + first, below / 2, last - first + 1)
  return Float64Array.from({ length: last - first + 1 }, (_, i) => fCdf((ratio * above) / (above + 2 * (first + i)), above + 2 * (first + i), below))
}

/**
 * Probability of a smaller F ratio when the numerator has mean squares adding up to `noncentrality` variances: the
 * Poisson mixture of central ratios (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2, ch. 30).
 * @param ratio numerator mean square over denominator mean square
 */
export const noncentralF = (ratio: number, [above, below]: readonly [number, number], noncentrality: number): number => {
  if (ratio <= 0) return 0
  const half = noncentrality / 2
  const reach = 7 * Math.sqrt(half) + 30
  const first = Math.max(0, Math.floor(half - reach))
  let logWeight = -half
  for (let j = 1; j <= first; j++) logWeight += Math.log(half / j)
  const weights: number[] = []
  let weighed = 0
  for (let j = first; j <= half + reach && 1 - weighed > negligible; j++) {
    if (j > first) logWeight += Math.log(half / j)
    const weight = Math.exp(logWeight)
    weighed += weight
    weights.push(weight)
  }
  const ratios = centralRatios(ratio, [above, below], [first, first + weights.length - 1])
  return weights.reduce((total, weight, i) => total + weight * (ratios[i] as number), 0)
}
