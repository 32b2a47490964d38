import { cholesky, choleskyInverse, choleskySolve } from './cholesky.ts'

/** Residuals (n) and their derivatives (one array of n per parameter) at a parameter vector. */
export interface LeastSquaresProblem {
  readonly residuals: (parameters: readonly number[]) => Float64Array
  readonly jacobian: (parameters: readonly number[]) => readonly Float64Array[]
}

export interface NonlinearFit {
  readonly parameters: readonly number[]
  readonly sumOfSquares: number
  /** (JᵀJ)⁻¹ at the end: times the residual variance it is the covariance; null when the data leave a direction open. */
  readonly inverseNormal: readonly (readonly number[])[] | null
  readonly converged: boolean
}

export interface IterationLimits {
  /** Iterations at most; 200 unless given. */
  readonly iterations?: number
  /** Stops when a step lowers the sum of squares by less than this part of itself; 1e-14 unless given. */
  readonly tolerance?: number
}

const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number)
  return sum
}

const normalMatrix = (jacobian: readonly Float64Array[]): number[][] => jacobian.map((a) => jacobian.map((b) => dot(a, b)))

/** (JᵀJ)⁻¹ from derivatives column by column; null when a column depends on the others to 1e-6 of its length. */
export const inverseOfNormal = (jacobian: readonly Float64Array[]): number[][] | null => {
  const normal = normalMatrix(jacobian)
  const lower = cholesky(normal)
  const open = lower?.some((row, i) => (row[i] as number) ** 2 < 1e-12 * (normal[i]?.[i] as number)) ?? true
  return lower === null || open ? null : choleskyInverse(lower)
}

/** Step of the damped normal equations; the diagonal grows by its own size, so units do not matter. */
const dampedStep = (normal: readonly (readonly number[])[], gradient: readonly number[], damping: number): number[] | null => {
  const lower = cholesky(normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) + 1e-300 : v))))
  return lower === null ? null : choleskySolve(lower, gradient)
}

/**
 * Least squares of a non-linear model from a starting point, by Levenberg and Marquardt's damped steps (damping scaled by
 * the diagonal of JᵀJ). Finds the minimum the start leads to, not the lowest of several. Residuals may jump: a step is
 * kept only if the sum of squares falls.
 */
export const levenbergMarquardt = (
  problem: LeastSquaresProblem,
  start: readonly number[],
  { iterations = 200, tolerance = 1e-14 }: IterationLimits = {},
): NonlinearFit => {
  let parameters = start
  let residuals = problem.residuals(parameters)
  let sumOfSquares = dot(residuals, residuals)
  let damping = 1e-3
  let jacobian = problem.jacobian(parameters)
  let converged = false
  for (let i = 0; i < iterations && !converged; i++) {
    const gradient = jacobian.map((column) => -dot(column, residuals))
    const step = dampedStep(normalMatrix(jacobian), gradient, damping)
    const next = parameters.map((value, j) => value + (step?.[j] ?? 0))
    const nextResiduals = problem.residuals(next)
    const nextSum = dot(nextResiduals, nextResiduals)
    if (step !== null && nextSum < sumOfSquares) {
      converged = sumOfSquares - nextSum <= tolerance * sumOfSquares
      parameters = next
      residuals = nextResiduals
      sumOfSquares = nextSum
      jacobian = problem.jacobian(parameters)
      damping = Math.max(damping / 10, 1e-14)
    } else {
      damping *= 10
      converged = damping > 1e12
    }
  }
  return { parameters, sumOfSquares, inverseNormal: inverseOfNormal(jacobian), converged }
}
