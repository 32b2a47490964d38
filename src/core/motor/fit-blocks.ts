import { levenbergMarquardt } from '#core/numeric/levenberg-marquardt'
import { seededRandom } from '#core/numeric/seeded-random'
import { balanceStart, zerosToTry } from './balance-start.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { problemOf, reachable, spreadParameters, squaresOf } from './pattern-squares.ts'
import { type Block, freePlaces } from './rest-parameters.ts'

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

const SHRINKINGS = [1, 0.8, 0.6]
const REFINED_STARTS = 3

/** Random motors tried where torque balance gives no start, as when merged commands leave it singular. */
const RANDOM_STARTS = 600
/** Half ranges they are drawn from, by place of the parameter vector. */
const RANGES = [0.8, 0.1, 0.1, 0.5, 0.5, 0.5, 0.5, 0.8, 0.8, 0.6]

const randomStarts = (places: readonly number[]): readonly (readonly number[])[] => {
  const random = seededRandom(1)
  return Array.from({ length: RANDOM_STARTS }, () => places.map((place) => (2 * random() - 1) * (RANGES[place] as number)))
}

const startsFor = (pattern: FoldedPattern, places: readonly number[]): readonly (readonly number[])[] => {
  const balanced = zerosToTry(pattern).flatMap((zero) => balanceStart(pattern, places, zero) ?? [])
  const size = places.length
  const starts = Array.from({ length: balanced.length / size }, (_, i) => balanced.slice(i * size, (i + 1) * size))
  const shrunk = SHRINKINGS.flatMap((part) => starts.map((start) => start.map((v, j) => (places[j] === 0 ? v : v * part))))
  const usable = shrunk.filter((start) => reachable(spreadParameters(start, places)))
  return [places.map(() => 0), ...(usable.length > 0 ? usable : randomStarts(places))]
}

/** Refines each start (free parameters) by least squares and keeps the lowest. */
const refine = (pattern: FoldedPattern, blocks: readonly Block[], places: readonly number[], starts: readonly (readonly number[])[]): BlockFit => {
  const problem = problemOf(pattern, places)
  const fits = starts.map((start) => levenbergMarquardt(problem, start, { iterations: 60, tolerance: 1e-9 }))
  const { parameters, sumOfSquares, inverseNormal } = fits.reduce((a, b) => (b.sumOfSquares < a.sumOfSquares ? b : a))
  return { blocks, places, parameters: spreadParameters(parameters, places), squares: sumOfSquares, inverseNormal }
}

/**
 * Fits the rest model with the given blocks free: starts from the balance of torques at several zeros, the best few refined
 * by least squares, and `hints` (full parameter vectors, say of a smaller model) refined as well; the lowest wins.
 */
export const fitBlocks = (
  pattern: FoldedPattern,
  blocks: readonly Block[],
  hints: readonly (readonly number[])[] = [],
): BlockFit => {
  const places = freePlaces(blocks, pattern.phases / 4)
  const ranked = startsFor(pattern, places)
    .map((start) => ({ start, squares: squaresOf(pattern, spreadParameters(start, places)) }))
    .sort((a, b) => a.squares - b.squares)
    .slice(0, REFINED_STARTS)
  return refine(pattern, blocks, places, [...ranked.map(({ start }) => start), ...hints.map((hint) => places.map((place) => hint[place] as number))])
}

/** The given fit, or a lower one that starts from `hints` (free parameters) lead to. */
export const improveFit = (pattern: FoldedPattern, fit: BlockFit, hints: readonly (readonly number[])[]): BlockFit => {
  const other = refine(pattern, fit.blocks, fit.places, hints)
  return other.squares < fit.squares ? other : fit
}
