import { invertMatrix, solveLinear } from './solve-linear.ts'

export interface NonlinearFit {
  readonly parameters: readonly number[]
  /** Inverse normal matrix, not scaled by the residuals; null when some parameter is not determined. */
  readonly cofactors: readonly (readonly number[])[] | null
  readonly residualSumOfSquares: number
}

const sumOfSquares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0)

/** Central differences; the step is relative to each parameter's scale. */
const jacobianOf = (residuals: (p: readonly number[]) => number[], at: readonly number[], scales: readonly number[]) =>
  at.map((value, j) => {
    const step = 1e-5 * (scales[j] as number)
    const above = residuals(at.map((v, i) => (i === j ? value + step : v)))
    const below = residuals(at.map((v, i) => (i === j ? value - step : v)))
    return above.map((v, i) => (v - (below[i] as number)) / (2 * step))
  })

const normalMatrix = (jacobian: readonly (readonly number[])[]): number[][] =>
  jacobian.map((a) => jacobian.map((b) => a.reduce((sum, v, i) => sum + v * (b[i] as number), 0)))

/**
 * Least squares of any smooth residual vector by damped Gauss–Newton steps (Levenberg 1944), derivatives by central differences.
 * Meant for a handful of parameters; stops when a step gains less than 1e-12 of the sum.
 * @param scales the size of a change in each parameter that matters; sets the difference step and the damping
 */
export const fitNonlinear = (
  residuals: (parameters: readonly number[]) => number[],
  start: readonly number[],
  scales: readonly number[],
  rounds = 30,
): NonlinearFit => {
  let parameters = [...start]
  let current = residuals(parameters)
  let best = sumOfSquares(current)
  let damping = 1e-3
  let normal: number[][] = []
  for (let round = 0; round < rounds; round++) {
    const jacobian = jacobianOf(residuals, parameters, scales)
    normal = normalMatrix(jacobian)
    const slope = jacobian.map((column) => -column.reduce((sum, v, i) => sum + v * (current[i] as number), 0))
    let gained = 0
    for (let attempt = 0; attempt < 8 && gained === 0; attempt++) {
      const step = solveLinear(normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) + 1e-300 : v))), slope)
      const tried = step === null ? null : parameters.map((v, i) => v + (step[i] as number))
      const values = tried === null ? null : residuals(tried)
      const sum = values === null ? Number.NaN : sumOfSquares(values)
      if (tried !== null && values !== null && sum < best) {
        gained = best - sum
        parameters = tried
        current = values
        best = sum
        damping = Math.max(damping / 8, 1e-12)
      } else damping *= 8
    }
    if (gained <= 1e-12 * best) break
  }
  return { parameters, cofactors: invertMatrix(normal), residualSumOfSquares: best }
}
