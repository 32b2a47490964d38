import { cholesky, choleskyInverse } from './cholesky.ts'

/** Errors of which a part wanders: it has so many times the variance of the part that each value has for itself, and fades by 1/e over so much of the way. */
export interface Wander {
  readonly share: number
  readonly reach: number
}

export interface WanderingFit {
  readonly coefficients: readonly number[]
  /** Covariance of the coefficients, with Student's wider tails. */
  readonly covariance: readonly (readonly number[])[]
  /** Variance of the part that each value has for itself. */
  readonly variance: number
  /** ln of how likely the values are, up to a constant that the same values share. */
  readonly evidence: number
}

/** Values in order of their places, each with what it is made of. */
export interface Placed {
  readonly rows: readonly (readonly number[])[]
  readonly values: ArrayLike<number>
  readonly places: readonly number[]
  /** Variance of each value's own error, in units of the one that is sought. */
  readonly variances: readonly number[]
}

export interface WanderOptions {
  readonly wander: Wander
  /** The variance as it usually is, and how many values that belief is worth. */
  readonly usual: { readonly variance: number; readonly worth: number }
  /** For each coefficient the inverse square of how far from 0 it usually is, in units of the square root of the variance; 0 where nothing is known. */
  readonly precision: readonly number[]
}

/** Sums of squares and products of the rows (each with its value at the end), the errors made independent by foretelling each from those before it; and ln of their determinant. */
const whitened = ({ rows, values, places, variances }: Placed, { share, reach }: Wander): { readonly sums: number[][]; readonly logDeterminant: number } => {
  const size = (rows[0]?.length ?? 0) + 1
  const sums = Array.from({ length: size }, () => new Array<number>(size).fill(0))
  const told = new Float64Array(size)
  const left = new Float64Array(size)
  let [open, logDeterminant] = [share, 0]
  rows.forEach((row, i) => {
    const keeps = i === 0 || share === 0 ? 0 : Math.exp(-((places[i] as number) - (places[i - 1] as number)) / reach)
    open = keeps * keeps * open + share * (1 - keeps * keeps)
    const variance = open + (variances[i] as number)
    const gain = open / variance
    for (let a = 0; a < size; a++) {
      const before = keeps * (told[a] as number)
      left[a] = (a === size - 1 ? (values[i] as number) : (row[a] as number)) - before
      told[a] = before + gain * (left[a] as number)
    }
    for (let a = 0; a < size; a++) for (let b = 0; b <= a; b++) (sums[a] as number[])[b] = ((sums[a] as number[])[b] as number) + ((left[a] as number) * (left[b] as number)) / variance
    open *= 1 - gain
    logDeterminant += Math.log(variance)
  })
  for (let a = 0; a < size; a++) for (let b = 0; b < a; b++) (sums[b] as number[])[a] = (sums[a] as number[])[b] as number
  return { sums, logDeterminant }
}

/**
 * Least squares where errors wander from value to value (an Ornstein–Uhlenbeck process beside independent ones, foretold step by step: Kalman
 * 1960, J. Basic Eng. 82, 35), with the chance of the values under that law, scatter and coefficients integrated out (O'Hagan, Kendall's
 * Advanced Theory 2B (1994), §9). Takes a time in proportion to the values.
 * @returns null when the rows do not determine the coefficients
 */
export const fitWandering = (placed: Placed, { wander, usual, precision }: WanderOptions): WanderingFit | null => {
  const { sums, logDeterminant } = whitened(placed, wander)
  const size = precision.length
  const normal = precision.map((p, i) => precision.map((_, j) => ((sums[i] as number[])[j] as number) + (i === j ? p : 0)))
  const right = precision.map((_, i) => (sums[i] as number[])[size] as number)
  const lower = cholesky(normal)
  if (lower === null) return null
  const inverse = choleskyInverse(lower)
  const halfLogDeterminant = lower.reduce((sum, row, i) => sum + Math.log(row[i] as number), 0)
  const coefficients = inverse.map((row) => row.reduce((sum, v, j) => sum + v * (right[j] as number), 0))
  const square = Math.max(0, ((sums[size] as number[])[size] as number) - coefficients.reduce((sum, c, i) => sum + c * (right[i] as number), 0))
  const unknown = precision.filter((p) => p === 0).length
  const worth = usual.worth + placed.rows.length - unknown
  const total = usual.worth * usual.variance + square
  const known = precision.reduce((sum, p) => sum + (p > 0 ? Math.log(p) : 0), 0)
  const evidence = (known - logDeterminant - worth * Math.log(total)) / 2 - halfLogDeterminant
  // Student's t for so many values has this much more variance than the normal law.
  const widened = (total / worth) * (worth > 2.5 ? worth / (worth - 2) : 5)
  return { coefficients, covariance: inverse.map((row) => row.map((v) => v * widened)), variance: total / worth, evidence }
}
