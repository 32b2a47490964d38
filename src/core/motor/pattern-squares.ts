import { inverseOfNormal, type LeastSquaresProblem } from '#core/numeric/levenberg-marquardt'
import type { FoldedPattern } from './folded-pattern.ts'
import { FRICTION } from './rest-parameters.ts'
import { steadyCycle, steadyCycleJacobian } from './steady-cycle.ts'

/** Torques at which the search turns back: beyond them the shaft no longer follows. */
const FRICTION_LIMIT = 0.95
const SIZE_LIMIT = 1.5
const OUT_OF_REACH = 1e3

/**
 * One direction hardly tells friction from the zero, so there the fit leans on what is known of bare motors: friction is
 * small, normally below 0.2 of holding torque (standard deviation 0.1, common practice, no source). Two directions measure it.
 */
const EXPECTED_FRICTION = 0.1

/** Full parameter vector from the free ones; friction takes its absolute value. */
export const spreadParameters = (free: readonly number[], places: readonly number[]): number[] => {
  const parameters = new Array<number>(10).fill(0)
  for (const [i, place] of places.entries()) parameters[place] = place === FRICTION ? Math.abs(free[i] as number) : (free[i] as number)
  return parameters
}

/** Standard deviation of one rest as far as it is known before the fit, electrical rad. */
const leanUnit = ({ u, scatterSquares, scatterFreedom }: FoldedPattern): number =>
  u > 0 ? u : Math.sqrt(scatterSquares / Math.max(scatterFreedom, 1))

/** Whether the shaft could follow a motor of these parameters at all. */
export const reachable = (parameters: readonly number[]): boolean =>
  (parameters[FRICTION] as number) < FRICTION_LIMIT && parameters.every((value) => Math.abs(value) < SIZE_LIMIT)

/** Weighted residuals √n·(mean − model), leg after leg, and last the friction's lean where there is one leg. */
const patternResiduals = (pattern: FoldedPattern, parameters: readonly number[]): Float64Array => {
  const { phases, legs } = pattern
  const residuals = new Float64Array(phases * legs.length + 1)
  if (!reachable(parameters)) return residuals.fill(OUT_OF_REACH)
  for (const [leg, { direction, mean, count }] of legs.entries()) {
    const { error } = steadyCycle(parameters, phases, direction)
    for (let i = 0; i < phases; i++) {
      const miss = (mean[i] as number) - (error[i] as number) - (parameters[0] as number)
      residuals[leg * phases + i] = Math.sqrt(count[i] as number) * miss
    }
  }
  if (legs.length === 1) residuals[phases] = ((parameters[FRICTION] as number) * leanUnit(pattern)) / EXPECTED_FRICTION
  return residuals
}

/** Weighted squares between a folded pattern and the model of these parameters, electrical rad². */
export const squaresOf = (pattern: FoldedPattern, parameters: readonly number[]): number => {
  let squares = 0
  for (const residual of patternResiduals(pattern, parameters)) squares += residual * residual
  return squares
}

const patternJacobian = (pattern: FoldedPattern, parameters: readonly number[], places: readonly number[]): Float64Array[] => {
  const { phases, legs } = pattern
  const columns = places.map(() => new Float64Array(phases * legs.length + 1))
  const friction = columns[places.indexOf(FRICTION)]
  if (legs.length === 1 && friction !== undefined) friction[phases] = leanUnit(pattern) / EXPECTED_FRICTION
  for (const [leg, { direction, count }] of legs.entries()) {
    const derivatives = steadyCycleJacobian(parameters, steadyCycle(parameters, phases, direction), direction)
    for (const [j, place] of places.entries()) {
      const derivative = derivatives[place] as Float64Array
      for (let i = 0; i < phases; i++)
        (columns[j] as Float64Array)[leg * phases + i] = -Math.sqrt(count[i] as number) * (derivative[i] as number)
    }
  }
  return columns
}

/** (JᵀJ)⁻¹ of the model with these blocks free, at given parameters and without fitting it; null when one is left open. */
export const inverseNormalAt = (pattern: FoldedPattern, parameters: readonly number[], places: readonly number[]): number[][] | null =>
  inverseOfNormal(patternJacobian(pattern, parameters, places))

/** The least-squares problem of the free places alone; derivatives turn with a friction that went below 0. */
export const problemOf = (pattern: FoldedPattern, places: readonly number[]): LeastSquaresProblem => ({
  residuals: (free) => patternResiduals(pattern, spreadParameters(free, places)),
  jacobian: (free) => {
    const columns = patternJacobian(pattern, spreadParameters(free, places), places)
    const friction = places.indexOf(FRICTION)
    return columns.map((column, j) => (j === friction && (free[j] as number) < 0 ? column.map((value) => -value) : column))
  },
})
