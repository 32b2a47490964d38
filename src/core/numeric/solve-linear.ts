/**
 * Solves A·x = b by Gaussian elimination with partial pivoting.
 * @param matrix n rows of n values
 * @returns null when A is singular to working precision
 */
export const solveLinear = (matrix: readonly (readonly number[])[], rightSide: readonly number[]): number[] | null => {
  const size = rightSide.length
  const rows = matrix.map((row, i) => [...row, rightSide[i] as number])
  for (let pivot = 0; pivot < size; pivot++) {
    let best = pivot
    for (let i = pivot + 1; i < size; i++) {
      if (Math.abs(rows[i]?.[pivot] as number) > Math.abs(rows[best]?.[pivot] as number)) best = i
    }
    const head = rows[best] as number[]
    rows[best] = rows[pivot] as number[]
    rows[pivot] = head
    const scale = Math.max(...(matrix[pivot] ?? []).map(Math.abs), Number.MIN_VALUE)
    if (!(Math.abs(head[pivot] as number) > 1e-14 * scale)) return null
    for (let i = 0; i < size; i++) {
      const row = rows[i] as number[]
      const factor = (row[pivot] as number) / (head[pivot] as number)
      if (i === pivot || factor === 0) continue
      for (let j = pivot; j <= size; j++) row[j] = (row[j] as number) - factor * (head[j] as number)
    }
  }
  return rows.map((row, i) => (row[size] as number) / (row[i] as number))
}

/** Inverse of a square matrix, column by column; null when singular. */
export const invertMatrix = (matrix: readonly (readonly number[])[]): number[][] | null => {
  const columns: number[][] = []
  for (let j = 0; j < matrix.length; j++) {
    const column = solveLinear(matrix, matrix.map((_, i) => (i === j ? 1 : 0)))
    if (column === null) return null
    columns.push(column)
  }
  return matrix.map((_, i) => columns.map((column) => column[i] as number))
}
