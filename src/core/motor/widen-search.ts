import { metropolis } from '#core/numeric/metropolis'
import { type BlockFit, improveFit } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { spreadParameters, squaresOf } from './pattern-squares.ts'
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
export const widenSearch = (pattern: FoldedPattern, fit: BlockFit): BlockFit => {
  if (!leaps(fit.parameters)) return fit
  const scale = 2 * HEAT * Math.max(fit.squares / pattern.phases, pattern.u ** 2)
  const costs = new Map<string, { readonly free: readonly number[]; readonly cost: number }>()
  const logDensity = (free: readonly number[]): number => {
    const cost = squaresOf(pattern, spreadParameters(free, fit.places))
    costs.set(free.join(), { free, cost })
    return -cost / scale
  }
  const stride = fit.places.map((_, i) => fit.places.map((__, j) => (i === j ? STRIDE : 0)))
  const mode = fit.places.map((place) => fit.parameters[place] as number)
  metropolis(logDensity, mode, stride, { count: STEPS, burnIn: STEPS / 3, seed: 1 })
  const lowest = [...costs.values()].sort((a, b) => a.cost - b.cost).slice(0, KEPT)
  return improveFit(pattern, fit, lowest.map(({ free }) => free))
}
