/** One eigenvalue with its unit eigenvector. */
export interface EigenPair {
  readonly value: number
  readonly vector: readonly number[]
}

const SWEEPS = 60

/** Plane rotation that makes a[p][q] zero, applied to the matrix from both sides and to the vectors from the right. */
const rotate = (a: readonly number[][], v: readonly number[][], p: number, q: number): void => {
  const [app, aqq, apq] = [a[p]?.[p] as number, a[q]?.[q] as number, a[p]?.[q] as number]
  if (apq === 0) return
  const tau = (aqq - app) / (2 * apq)
  const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.hypot(1, tau))
  const c = 1 / Math.hypot(1, t)
  const s = t * c
  const turn = (row: number[]): void => {
    const [x, y] = [row[p] as number, row[q] as number]
    row[p] = c * x - s * y
    row[q] = s * x + c * y
  }
  for (const row of a) turn(row)
  const [rowP, rowQ] = [a[p] as number[], a[q] as number[]]
  for (let j = 0; j < a.length; j++) {
    const [x, y] = [rowP[j] as number, rowQ[j] as number]
    rowP[j] = c * x - s * y
    rowQ[j] = s * x + c * y
  }
  for (const row of v) turn(row)
}

/**
 * Eigenvalues, largest first, and eigenvectors of a small symmetric matrix by cyclic plane rotations (Jacobi 1846).
 * @param matrix n rows of n values; only symmetric input makes sense
 */
export const symmetricEigen = (matrix: readonly (readonly number[])[]): EigenPair[] => {
  const size = matrix.length
  const a = matrix.map((row) => [...row])
  const v = matrix.map((_, i) => matrix.map((__, j) => (i === j ? 1 : 0)))
  const total = Math.hypot(...matrix.flat())
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    const off = Math.hypot(...a.flatMap((row, i) => row.filter((_, j) => j > i)))
    if (!(off > 1e-17 * total)) break
    for (let p = 0; p < size; p++) for (let q = p + 1; q < size; q++) rotate(a, v, p, q)
  }
  return a.map((row, j) => ({ value: row[j] as number, vector: v.map((line) => line[j] as number) })).sort((x, y) => y.value - x.value)
}
