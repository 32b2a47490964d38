import { metropolis } from '#core/numeric/metropolis'
import { type BlockFit, fitBlocks, spreadParameters, squaresOf } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { leaps } from './steady-cycle.ts'

/** Step of the first, coarse walk in every parameter, and by how much its squares are played down. */
const STRIDE = 0.06
const HEAT = 20
const STEPS = 600
const KEPT = 6

/**
 * A leaping shaft breaks the sum of squares into patches, one per set of commands at which it may leap, and least squares
 * stays in the patch it starts from. From the best patch found so far a heated random walk looks round; the lowest places
 * it met are refined. A smooth motor's fit comes back unchanged.
 */
export const widenSearch = (pattern: FoldedPattern, fit: BlockFit, microsteps: number): BlockFit => {
  if (!leaps(fit.parameters)) return fit
  const scale = 2 * HEAT * Math.max(fit.squares / pattern.phases, pattern.u ** 2)
  const cost = (free: readonly number[]): number => squaresOf(pattern, spreadParameters(free, fit.places))
  const stride = fit.places.map((_, i) => fit.places.map((__, j) => (i === j ? STRIDE : 0)))
  const mode = fit.places.map((place) => fit.parameters[place] as number)
  const met = metropolis((free) => -cost(free) / scale, mode, stride, { count: STEPS, burnIn: STEPS / 3, seed: 1 })
  const distinct = [...new Map(met.map((free) => [free[0], free])).values()]
  const lowest = distinct.map((free) => ({ free, cost: cost(free) })).sort((a, b) => a.cost - b.cost)
  const hints = lowest.slice(0, KEPT).map(({ free }) => spreadParameters(free, fit.places))
  const wider = fitBlocks(pattern, fit.blocks, microsteps, [fit.parameters, ...hints])
  return wider.squares < fit.squares ? wider : fit
}
