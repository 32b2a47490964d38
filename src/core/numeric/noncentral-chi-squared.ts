/**
 * Sum of squares of `degreesOfFreedom` unit normals whose means squared add up to `noncentrality`, as a standard normal
 * score: Φ(score) is the probability of a smaller sum. Sankaran's approximation (Biometrika 50 (1963) 199, from memory);
 * within 0.002 in probability from 8 degrees of freedom on.
 */
export const noncentralScore = (sum: number, degreesOfFreedom: number, noncentrality: number): number => {
  const first = degreesOfFreedom + noncentrality
  const second = degreesOfFreedom + 2 * noncentrality
  const h = 1 - (2 / 3) * ((first * (degreesOfFreedom + 3 * noncentrality)) / second ** 2)
  const p = second / first ** 2
  const m = (h - 1) * (1 - 3 * h)
  return ((sum / first) ** h - (1 + h * p * (h - 1 - 0.5 * (2 - h) * m * p))) / (h * Math.sqrt(2 * p) * (1 + 0.5 * m * p))
}
