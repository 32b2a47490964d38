import fCdf from '@stdlib/stats-base-dists-f-cdf'

/** Terms of the Poisson mixture left out together weigh less than this. */
const negligible = 1e-12

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
  let total = 0
  let weighed = 0
  for (let j = first; j <= half + reach && 1 - weighed > negligible; j++) {
    if (j > first) logWeight += Math.log(half / j)
    const weight = Math.exp(logWeight)
    weighed += weight
    total += weight * fCdf((ratio * above) / (above + 2 * j), above + 2 * j, below)
  }
  return total
}
