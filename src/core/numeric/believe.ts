import { invertMatrix } from './solve-linear.ts'

/** What is believed of a few numbers: their means and covariance. */
export interface Belief {
  readonly means: readonly number[]
  readonly covariance: readonly (readonly number[])[]
}

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, value, i) => sum + value * (b[i] as number), 0)

/**
 * Least squares y ≈ Σ m·column with what is known of each m beforehand: 0 ± u, independent and normal (Bayes' theorem for a
 * linear model). With every u infinite this is ordinary least squares of known variance.
 * @param columns one array of n values per number
 * @param variance of one observation, above 0
 * @param beforehand u of each number; Infinity where nothing is known
 * @returns null when the observations leave a number open that nothing was known of
 */
export const believe = (columns: readonly (readonly number[])[], y: readonly number[], { variance, beforehand }: { readonly variance: number; readonly beforehand: readonly number[] }): Belief | null => {
  const scale = columns.map((column) => Math.sqrt(dot(column, column)))
  if (scale.some((length) => !(length > 0))) return null
  const normal = columns.map((a, i) => columns.map((b, j) => (dot(a, b) / variance + (i === j ? 1 / (beforehand[i] as number) ** 2 : 0)) / ((scale[i] as number) * (scale[j] as number))))
  const inverse = invertMatrix(normal)
  if (!inverse) return null
  const covariance = inverse.map((row, i) => row.map((value, j) => value / ((scale[i] as number) * (scale[j] as number))))
  const pulls = columns.map((column) => dot(column, y) / variance)
  return { means: covariance.map((row) => dot(row, pulls)), covariance }
}
