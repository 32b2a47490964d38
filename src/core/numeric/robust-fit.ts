import { invertMatrix, solveLinear } from './solve-linear.ts'
import { robustSpread } from './median.ts'

export interface RobustFit {
  readonly coefficients: readonly number[]
  /** Covariance of the coefficients, widened for how well a small sample knows its own scatter. */
  readonly covariance: readonly (readonly number[])[]
  /** Standard deviation of one value about the fit. */
  readonly scatter: number
  readonly residuals: Float64Array
  /** What each value still says: its residual as far as it counts, so scaled that least squares of fit + bounded gives the same fit with an honest scatter (pseudo-values: Huber, Robust Statistics (1981), §7.10). */
  readonly bounded: Float64Array
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

/** Sum of the products of two columns, weighted, and of `start`. */
const product = (weights: Float64Array, a: Float64Array, b: Float64Array, start: number): number => {
  let sum = start
  for (let k = 0; k < a.length; k++) sum += (weights[k] as number) * (a[k] as number) * (b[k] as number)
  return sum
}

const normalMatrix = (columns: readonly Float64Array[], weights: Float64Array, expected: readonly number[]): number[][] =>
  columns.map((a, i) => columns.map((b, j) => product(weights, a, b, i === j ? 1 / (expected[i] as number) ** 2 : 0)))

const residualsOf = (columns: readonly Float64Array[], values: Float64Array, coefficients: readonly number[]): Float64Array => {
  const fitted = new Float64Array(values.length)
  columns.forEach((column, i) => {
    const coefficient = coefficients[i] as number
    for (let k = 0; k < fitted.length; k++) fitted[k] = (fitted[k] as number) + (column[k] as number) * coefficient
  })
  return fitted.map((v, k) => (values[k] as number) - v)
}

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
  const columns = expected.map((_, i) => Float64Array.from(rows, (row) => row[i] as number))
  const given = Float64Array.from(values)
  const equal = new Float64Array(rows.length).fill(1)
  let weights: Float64Array = equal
  let coefficients: readonly number[] = expected.map(() => 0)
  let residuals: Float64Array = given
  let scale = 0
  for (let round = 0; round < ROUNDS; round++) {
    const solved = solveLinear(normalMatrix(columns, weights, expected), columns.map((column) => product(weights, column, given, 0)))
    if (solved === null) return null
    const before = residuals
    coefficients = solved
    residuals = residualsOf(columns, given, coefficients)
    scale = Math.sqrt(believed(robustSpread(residuals) ** 2))
    weights = residuals.map((r) => weightAt(r / (CUT * scale)))
    if (round > 1 && residuals.every((r, k) => Math.abs(r - (before[k] as number)) < SETTLED * scale)) break
  }
  const slope = Math.max(0.1, residuals.reduce((sum, r) => sum + slopeAt(r / (CUT * scale)), 0) / rows.length)
  const bounded = residuals.map((r, k) => ((weights[k] as number) * r) / slope)
  const variance = believed(bounded.reduce((sum, r) => sum + r * r, 0) / freedom)
  const inverse = invertMatrix(normalMatrix(columns, equal, expected))
  if (inverse === null || !coefficients.every(Number.isFinite)) return null
  // Student's t for so many values has this much more variance than the normal law.
  const worth = usual.worth + freedom
  const widened = variance * (worth > 2.5 ? worth / (worth - 2) : 5)
  return { coefficients, covariance: inverse.map((row) => row.map((v) => v * widened)), scatter: Math.sqrt(variance), residuals, bounded }
}
