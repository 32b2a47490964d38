import { medianOrZero } from './median.ts'
import { invertMatrix, solveLinear } from './solve-linear.ts'

export interface RobustFit {
  readonly coefficients: readonly number[]
  /** Covariance of the coefficients, widened for how well a small sample knows its own scatter. */
  readonly covariance: readonly (readonly number[])[]
  /** Standard deviation of one value about the fit. */
  readonly scatter: number
  readonly residuals: readonly number[]
}

export interface RobustOptions {
  /** What the scatter usually is, and how many values that belief is worth. */
  readonly usual: { readonly scatter: number; readonly worth: number }
  /** For each coefficient, how far from 0 it usually is, in units of the scatter; Infinity for those about which nothing is known. */
  readonly expected: readonly number[]
}

/** Tukey's biweight: values beyond this many scatters count for nothing. */
const CUT = 4.685
const ROUNDS = 12
/** Residuals that change by less than this share of their scatter have settled. */
const SETTLED = 1e-5

const weightAt = (z: number): number => (Math.abs(z) < 1 ? (1 - z * z) ** 2 : 0)

/** Derivative of the weighted residual. */
const slopeAt = (z: number): number => (Math.abs(z) < 1 ? (1 - z * z) * (1 - 5 * z * z) : 0)

/** Weighted products of the columns, and of each with the values, in one pass. */
const normalOf = (rows: readonly (readonly number[])[], values: readonly number[], weights: readonly number[], expected: readonly number[]): { readonly matrix: number[][]; readonly right: number[] } => {
  const size = expected.length
  const matrix = expected.map((spread, i) => expected.map((_, j) => (i === j ? 1 / spread ** 2 : 0)))
  const right = expected.map(() => 0)
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k] as readonly number[]
    for (let i = 0; i < size; i++) {
      const part = (weights[k] as number) * (row[i] as number)
      const line = matrix[i] as number[]
      for (let j = 0; j < size; j++) line[j] = (line[j] as number) + part * (row[j] as number)
      right[i] = (right[i] as number) + part * (values[k] as number)
    }
  }
  return { matrix, right }
}

const times = (row: readonly number[], coefficients: readonly number[]): number => row.reduce((sum, v, i) => sum + v * (coefficients[i] as number), 0)

/**
 * Least squares with Tukey's biweight. The covariance is Huber's: the scatter of the bounded residuals over the square of their mean slope
 * (Huber, Robust Statistics (1981), §7.6), so that values set aside cost what they should.
 * @param rows one per value, one entry per coefficient
 * @returns null for no more values than coefficients about which nothing is known, or when the rows do not determine them
 */
export const robustFit = (rows: readonly (readonly number[])[], values: readonly number[], { usual, expected }: RobustOptions): RobustFit | null => {
  const freedom = rows.length - expected.filter((spread) => spread === Number.POSITIVE_INFINITY).length
  if (freedom < 1) return null
  const believed = (variance: number): number => (usual.worth * usual.scatter ** 2 + freedom * variance) / (usual.worth + freedom)
  let weights: readonly number[] = rows.map(() => 1)
  let coefficients: readonly number[] = expected.map(() => 0)
  let residuals: readonly number[] = values
  let scale = 0
  for (let round = 0; round < ROUNDS; round++) {
    const { matrix, right } = normalOf(rows, values, weights, expected)
    const solved = solveLinear(matrix, right)
    if (solved === null) return null
    const before = residuals
    coefficients = solved
    residuals = rows.map((row, k) => (values[k] as number) - times(row, coefficients))
    scale = Math.sqrt(believed((1.4826 * medianOrZero(residuals.map(Math.abs))) ** 2))
    weights = residuals.map((r) => weightAt(r / (CUT * scale)))
    if (round > 1 && residuals.every((r, k) => Math.abs(r - (before[k] as number)) < SETTLED * scale)) break
  }
  const bounded = residuals.reduce((sum, r, k) => sum + ((weights[k] as number) * r) ** 2, 0) / freedom
  const slope = residuals.reduce((sum, r) => sum + slopeAt(r / (CUT * scale)), 0) / rows.length
  const variance = believed(bounded / Math.max(0.1, slope) ** 2)
  const inverse = invertMatrix(normalOf(rows, values, rows.map(() => 1), expected).matrix)
  if (inverse === null || !coefficients.every(Number.isFinite)) return null
  // Student's t for so many values has this much more variance than the normal law.
  const worth = usual.worth + freedom
  const widened = variance * (worth > 2.5 ? worth / (worth - 2) : 5)
  return { coefficients, covariance: inverse.map((row) => row.map((v) => v * widened)), scatter: Math.sqrt(variance), residuals }
}
