/** Lower triangle L with L·Lᵀ = matrix (symmetric, row by row); null unless the matrix is positive definite. */
export const cholesky = (matrix: readonly (readonly number[])[]): number[][] | null => {
  const size = matrix.length
  const lower = Array.from({ length: size }, () => new Array<number>(size).fill(0))
  for (let i = 0; i < size; i++) {
    const row = lower[i] as number[]
    for (let j = 0; j <= i; j++) {
      const other = lower[j] as number[]
      let rest = matrix[i]?.[j] as number
      for (let m = 0; m < j; m++) rest -= (row[m] as number) * (other[m] as number)
      if (i !== j) row[j] = rest / (other[j] as number)
      else if (rest > 0) row[i] = Math.sqrt(rest)
      else return null
    }
  }
  return lower
}

/** The x with L·Lᵀ·x = right, for a lower triangle L. */
export const choleskySolve = (lower: readonly (readonly number[])[], right: ArrayLike<number>): number[] => {
  const size = lower.length
  const x = Array.from(right)
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) x[i] = (x[i] as number) - (lower[i]?.[j] as number) * (x[j] as number)
    x[i] = (x[i] as number) / (lower[i]?.[i] as number)
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let j = i + 1; j < size; j++) x[i] = (x[i] as number) - (lower[j]?.[i] as number) * (x[j] as number)
    x[i] = (x[i] as number) / (lower[i]?.[i] as number)
  }
  return x
}

/** Inverse of L·Lᵀ. */
export const choleskyInverse = (lower: readonly (readonly number[])[]): number[][] =>
  lower.map((_, column) => choleskySolve(lower, lower.map((_, row) => (row === column ? 1 : 0))))
