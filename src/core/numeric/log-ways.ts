/** Natural log of the number of ways to choose k of n, by Stirling's formula. */
export const logWays = (n: number, k: number): number => {
  const logFactorial = (m: number): number => (m < 1 ? 0 : m * Math.log(m) - m + 0.5 * Math.log(2 * Math.PI * m))
  return Math.max(0, logFactorial(n) - logFactorial(k) - logFactorial(n - k))
}
