/**
 * Cholesky's factor of a symmetric matrix in place, `size` numbers to a row, the lower triangle alone read and written:
 * for systems solved many thousand times, where rows of their own would cost more than the sums.
 * @returns false when the matrix is not positive definite; the array is then of no use
 */
export const factorPacked = (lower: Float64Array, size: number): boolean => {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = lower[i * size + j] as number
      for (let m = 0; m < j; m++) rest -= (lower[i * size + m] as number) * (lower[j * size + m] as number)
      if (i !== j) lower[i * size + j] = rest / (lower[j * size + j] as number)
      else if (rest > 0) lower[i * size + i] = Math.sqrt(rest)
      else return false
    }
  }
  return true
}

/** The x with L·Lᵀ·x = right, for a factor made by factorPacked. */
export const solvePacked = (factor: Float64Array, right: Float64Array): Float64Array => {
  const size = right.length
  const x = right.slice()
  for (let i = 0; i < size; i++) {
    let rest = x[i] as number
    for (let j = 0; j < i; j++) rest -= (factor[i * size + j] as number) * (x[j] as number)
    x[i] = rest / (factor[i * size + i] as number)
  }
  for (let i = size - 1; i >= 0; i--) {
    let rest = x[i] as number
    for (let j = i + 1; j < size; j++) rest -= (factor[j * size + i] as number) * (x[j] as number)
    x[i] = rest / (factor[i * size + i] as number)
  }
  return x
}
