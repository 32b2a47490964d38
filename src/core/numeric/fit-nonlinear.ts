import { levenbergMarquardt } from './levenberg-marquardt.ts'

export interface NonlinearFit {
  readonly parameters: readonly number[]
  /** Inverse normal matrix, not scaled by the residuals; null when some parameter is not determined. */
  readonly cofactors: readonly (readonly number[])[] | null
  readonly residualSumOfSquares: number
}

/** Central differences; the step is relative to each parameter's scale. */
const jacobianOf = (residuals: (p: readonly number[]) => ArrayLike<number>, at: readonly number[], scales: readonly number[]): Float64Array[] =>
  at.map((value, j) => {
    const step = 1e-5 * (scales[j] as number)
    const above = residuals(at.map((v, i) => (i === j ? value + step : v)))
    const below = residuals(at.map((v, i) => (i === j ? value - step : v)))
    return Float64Array.from(above, (v, i) => (v - (below[i] as number)) / (2 * step))
  })

/** Steps tried for each set of derivatives, at most: a few that fail, damped more and more, before one that gains. */
const TRIES = 2

/**
 * Least squares of any smooth residual vector by levenbergMarquardt, the derivatives by central differences.
 * Meant for a handful of parameters; stops when a step gains less than 1e-12 of the sum.
 * @param scales the size of a change in each parameter that matters; sets the difference step
 * @param rounds sets of derivatives taken, about
 */
export const fitNonlinear = (
  residuals: (parameters: readonly number[]) => ArrayLike<number>,
  start: readonly number[],
  scales: readonly number[],
  rounds = 30,
): NonlinearFit => {
  const problem = {
    residuals: (p: readonly number[]) => Float64Array.from(residuals(p)),
    jacobian: (p: readonly number[]) => jacobianOf(residuals, p, scales),
  }
  const { parameters, inverseNormal, sumOfSquares } = levenbergMarquardt(problem, start, { iterations: TRIES * rounds, tolerance: 1e-12 })
  return { parameters, cofactors: inverseNormal, residualSumOfSquares: sumOfSquares }
}
