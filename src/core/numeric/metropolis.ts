import { normal, seededRandom } from './seeded-random.ts'

export interface SamplingPlan {
  /** Samples kept. */
  readonly count: number
  /** Steps thrown away first, in which the length of the walk is tuned. */
  readonly burnIn: number
  readonly seed: number
}

const TAIL = 5

/** Log density, up to a constant, of Student's multivariate t with 5 degrees of freedom, standard scale. */
const logTail = (point: readonly number[]): number =>
  -((TAIL + point.length) / 2) * Math.log1p(point.reduce((sum, v) => sum + v * v, 0) / TAIL)

const shifted = (centre: readonly number[], lower: readonly (readonly number[])[], point: readonly number[]): number[] =>
  centre.map((value, i) => value + point.reduce((sum, v, j) => sum + (lower[i]?.[j] ?? 0) * v, 0))

/**
 * Samples of a density known up to a constant, by Metropolis–Hastings (Hastings 1970) about a mode with a rough spread
 * L·Lᵀ: every other step proposes afresh from a heavy-tailed normal about the mode, the others walk. Nearly independent
 * samples where the density is nearly normal; it may have steps and edges, only then neighbours in the list resemble each
 * other more. `logDensity` may return −∞.
 */
export const metropolis = (
  logDensity: (point: readonly number[]) => number,
  mode: readonly number[],
  lower: readonly (readonly number[])[],
  { count, burnIn, seed }: SamplingPlan,
): number[][] => {
  const random = seededRandom(seed)
  const draw = (): number[] => mode.map(() => normal(random))
  const fresh = (): number[] => {
    const chiSquare = Array.from({ length: TAIL }, () => normal(random) ** 2).reduce((sum, v) => sum + v, 0)
    return draw().map((v) => v * Math.sqrt(TAIL / chiSquare))
  }
  let reach = 2.4 / Math.sqrt(mode.length)
  let place = mode.map(() => 0)
  let here = { point: mode.slice(), log: logDensity(mode) }
  const samples: number[][] = []
  for (let i = 0; i < burnIn + count; i++) {
    const walk = i % 2 === 1
    const next = walk ? draw().map((v, j) => (place[j] as number) + reach * v) : fresh()
    const point = shifted(mode, lower, next)
    const log = logDensity(point)
    const accept = Math.log(1 - random()) < log - here.log + (walk ? 0 : logTail(place) - logTail(next))
    if (accept) [place, here] = [next, { point, log }]
    if (walk && i < burnIn) reach *= accept ? 1.1 : 0.96
    if (i >= burnIn) samples.push(here.point)
  }
  return samples
}
