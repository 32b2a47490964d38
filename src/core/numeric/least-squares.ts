/** What a linear least-squares fit says. Arrays follow the order of the columns. */
export interface LinearFit {
  readonly coefficients: readonly number[]
  /** Covariance of the coefficients, residual variance included. */
  readonly covariance: readonly (readonly number[])[]
  readonly residualSumOfSquares: number
  readonly degreesOfFreedom: number
}

/** Length of the part of a column from a row on; scaled by its largest entry, so that no square runs over. */
const lengthFrom = (column: Float64Array, from: number): number => {
  let most = 0
  for (let i = from; i < column.length; i++) most = Math.max(most, Math.abs(column[i] as number))
  if (most === 0) return 0
  let squares = 0
  for (let i = from; i < column.length; i++) squares += ((column[i] as number) / most) ** 2
  return most * Math.sqrt(squares)
}

/** Householder reduction of [A | y] in place; returns the upper triangle R and Qᵀy. */
const triangularise = (rows: Float64Array[], columns: number): void => {
  for (let pivot = 0; pivot < columns; pivot++) {
    const column = rows[pivot] as Float64Array
    const norm = lengthFrom(column, pivot)
    const head = column[pivot] as number
    const alpha = head > 0 ? -norm : norm
    if (norm === 0) continue
    const reflector = column.slice(pivot)
    reflector[0] = head - alpha
    let square = 0
    for (const value of reflector) square += value * value
    for (let each = pivot; each < rows.length; each++) {
      const target = rows[each] as Float64Array
      let dot = 0
      for (let i = 0; i < reflector.length; i++) dot += (reflector[i] as number) * (target[pivot + i] as number)
      const factor = (2 * dot) / square
      for (let i = 0; i < reflector.length; i++) target[pivot + i] = (target[pivot + i] as number) - factor * (reflector[i] as number)
    }
  }
}

/** Inverse of the upper triangle held in the first `size` entries of each column. */
const invertTriangle = (columns: readonly Float64Array[], size: number): number[][] => {
  const inverse = Array.from({ length: size }, () => new Array<number>(size).fill(0))
  for (let j = size - 1; j >= 0; j--) {
    for (let i = j; i >= 0; i--) {
      let sum = i === j ? 1 : 0
      for (let m = i + 1; m <= j; m++) sum -= (columns[m]?.[i] as number) * (inverse[m]?.[j] as number)
      ;(inverse[i] as number[])[j] = sum / (columns[i]?.[i] as number)
    }
  }
  return inverse
}

/**
 * Ordinary least squares y ≈ Σ coefficient·column by Householder triangularisation.
 * @param columns one array of n values per coefficient
 * @param y n observations
 * @returns null when a column depends on the others (to 1e-10 of its length) or there are fewer rows than columns
 */
export const linearLeastSquares = (columns: readonly (readonly number[])[], y: readonly number[]): LinearFit | null => {
  const size = columns.length
  if (y.length < size || size === 0) return null
  const work = [...columns, y].map((column) => new Float64Array(column))
  const lengths = columns.map((column) => Math.sqrt(column.reduce((sum, value) => sum + value * value, 0)))
  triangularise(work, size)
  if (lengths.some((length, j) => Math.abs(work[j]?.[j] as number) <= 1e-10 * length || length === 0)) return null
  const rotated = work[size] as Float64Array
  const inverse = invertTriangle(work, size)
  const coefficients = inverse.map((row) => row.reduce((sum, value, j) => sum + value * (rotated[j] as number), 0))
  const residualSumOfSquares = rotated.slice(size).reduce((sum, value) => sum + value * value, 0)
  const degreesOfFreedom = y.length - size
  const variance = degreesOfFreedom > 0 ? residualSumOfSquares / degreesOfFreedom : 0
  const covariance = inverse.map((a) => inverse.map((b) => variance * a.reduce((sum, value, m) => sum + value * (b[m] as number), 0)))
  return { coefficients, covariance, residualSumOfSquares, degreesOfFreedom }
}
