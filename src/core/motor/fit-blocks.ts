import { linearLeastSquares } from '#core/numeric/least-squares'
import { type LeastSquaresProblem, levenbergMarquardt } from '#core/numeric/levenberg-marquardt'
import type { FoldedPattern } from './folded-pattern.ts'
import { type Block, freePlaces } from './rest-parameters.ts'
import { steadyCycle, steadyCycleJacobian, torqueTerms } from './steady-cycle.ts'

/** The rest model with some blocks free, at its best. */
export interface BlockFit {
  readonly blocks: readonly Block[]
  /** Free places of the parameter vector. */
  readonly places: readonly number[]
  /** All ten parameters, 0 where not free. */
  readonly parameters: readonly number[]
  /** Weighted squares between the cells' means and the model, electrical rad². */
  readonly squares: number
  /** Times the variance of one rest: covariance of the free parameters; null when the data leave one open. */
  readonly inverseNormal: readonly (readonly number[])[] | null
}

const FRICTION = 9
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

const reachable = (parameters: readonly number[]): boolean =>
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
export const squaresOf = (pattern: FoldedPattern, parameters: readonly number[]): number =>
  patternResiduals(pattern, parameters).reduce((sum, residual) => sum + residual * residual, 0)

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

const problemOf = (pattern: FoldedPattern, places: readonly number[]): LeastSquaresProblem => ({
  residuals: (free) => patternResiduals(pattern, spreadParameters(free, places)),
  jacobian: (free) => {
    const columns = patternJacobian(pattern, spreadParameters(free, places), places)
    const friction = places.indexOf(FRICTION)
    return columns.map((column, j) => (j === friction && (free[j] as number) < 0 ? column.map((value) => -value) : column))
  },
})

/**
 * A start from the balance of torques itself: with the measured rests put in, T(x) = ±f is linear in all parameters but the
 * zero, so each tried zero gives one set of them by linear least squares. Null when N or the data leave one open.
 */
const balanceStart = (pattern: FoldedPattern, places: readonly number[], zero: number): number[] | null => {
  const torques = places.filter((place) => place !== 0)
  const rows = pattern.legs.flatMap(({ direction, mean, count }) =>
    Array.from(mean, (value, i) => {
      const phi = (2 * Math.PI * i) / pattern.phases
      const terms = torqueTerms(phi + value - zero, phi)
      const weight = Math.sqrt(count[i] as number)
      return {
        pull: weight * Math.sin(value - zero),
        terms: torques.map((place) => weight * (place === FRICTION ? -direction : (terms[place - 1] as number))),
      }
    }),
  )
  const fit = linearLeastSquares(torques.map((_, j) => rows.map((row) => row.terms[j] as number)), rows.map((row) => row.pull))
  return fit && places.map((place) => (place === 0 ? zero : (fit.coefficients[torques.indexOf(place)] as number)))
}

/** Zeros to try, electrical rad: a single direction hides its lag in the zero, two directions show it. */
const zerosToTry = (pattern: FoldedPattern): readonly number[] => {
  const [first] = pattern.legs
  return pattern.legs.length > 1 ? [-0.1, 0, 0.1] : [-0.1, 0, 0.1, 0.2, 0.35, 0.5].map((zero) => zero * (first?.direction ?? 1))
}

const SHRINKINGS = [1, 0.8, 0.6]
const REFINED_STARTS = 3

const startsFor = (pattern: FoldedPattern, places: readonly number[]): readonly (readonly number[])[] => {
  const balanced = zerosToTry(pattern).flatMap((zero) => balanceStart(pattern, places, zero) ?? [])
  const size = places.length
  const starts = Array.from({ length: balanced.length / size }, (_, i) => balanced.slice(i * size, (i + 1) * size))
  return [places.map(() => 0), ...SHRINKINGS.flatMap((part) => starts.map((start) => start.map((v, j) => (places[j] === 0 ? v : v * part))))]
}

/**
 * Fits the rest model with the given blocks free: starts from the balance of torques at several zeros, the best few refined
 * by least squares, and `hints` (full parameter vectors, say of a smaller model) refined as well; the lowest wins.
 */
export const fitBlocks = (
  pattern: FoldedPattern,
  blocks: readonly Block[],
  microsteps: number,
  hints: readonly (readonly number[])[] = [],
): BlockFit => {
  const places = freePlaces(blocks, microsteps)
  const problem = problemOf(pattern, places)
  const ranked = startsFor(pattern, places)
    .map((start) => ({ start, squares: squaresOf(pattern, spreadParameters(start, places)) }))
    .sort((a, b) => a.squares - b.squares)
    .slice(0, REFINED_STARTS)
  const starts = [...ranked.map(({ start }) => start), ...hints.map((hint) => places.map((place) => hint[place] as number))]
  const fits = starts.map((start) => levenbergMarquardt(problem, start, { iterations: 60, tolerance: 1e-9 }))
  const best = fits.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  return {
    blocks,
    places,
    parameters: spreadParameters(best.parameters, places),
    squares: best.sumOfSquares,
    inverseNormal: best.inverseNormal,
  }
}
