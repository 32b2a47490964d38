/**
 * Probabilities corrected for looking at several at once, in the order given (Holm, Scand. J. Statist. 6 (1979) 65):
 * the smallest times n, the next times n − 1 …, never falling and never above 1.
 */
export const holm = (probabilities: readonly number[]): number[] => {
  const order = probabilities.map((_, i) => i).sort((a, b) => (probabilities[a] ?? 0) - (probabilities[b] ?? 0))
  const corrected = new Array<number>(probabilities.length).fill(1)
  let least = 0
  order.forEach((place, rank) => {
    least = Math.max(least, Math.min(1, (probabilities.length - rank) * (probabilities[place] ?? 1)))
    corrected[place] = least
  })
  return corrected
}
