import { cholesky, choleskySolve } from './cholesky.ts'

/** 1, cos t, sin t, cos 2t, sin 2t: what a closed curve near a circle is made of. */
export const twoWaves = (t: number): readonly number[] => [1, Math.cos(t), Math.sin(t), Math.cos(2 * t), Math.sin(2 * t)]

/**
 * Weighted least squares by the normal equations: quick, for a few unknowns whose rows are of like size.
 * @param ridge added to the diagonal but for its first element: holds the unknowns to 0 where the rows leave them open
 * @returns null when they leave some open
 */
export const solveNormal = (rows: readonly (readonly number[])[], values: ArrayLike<number>, weights: ArrayLike<number>, ridge = 0): readonly number[] | null => {
  const size = rows[0]?.length ?? 0
  const normal = Array.from({ length: size }, (_, i) => Array.from({ length: size }, (__, j) => (i === j && i > 0 ? ridge : 0)))
  const right = new Array<number>(size).fill(0)
  for (let n = 0; n < rows.length; n++) {
    const weight = weights[n] as number
    if (weight === 0) continue
    const row = rows[n] as readonly number[]
    for (let i = 0; i < size; i++) {
      const wi = weight * (row[i] as number)
      const into = normal[i] as number[]
      right[i] = (right[i] as number) + wi * (values[n] as number)
      for (let j = 0; j < size; j++) into[j] = (into[j] as number) + wi * (row[j] as number)
    }
  }
  const lower = cholesky(normal)
  return lower && choleskySolve(lower, right)
}
