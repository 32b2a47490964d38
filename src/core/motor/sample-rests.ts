import { cholesky } from '#core/numeric/cholesky'
import { metropolis } from '#core/numeric/metropolis'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { FullModel } from './choose-blocks.ts'
import type { BlockFit } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { devianceOf, type Noise } from './noise-of.ts'
import { spreadParameters, squaresOf } from './pattern-squares.ts'
import { leaps } from './steady-cycle.ts'

export interface RestSampling {
  readonly seed: number
  readonly intervals: 'sampled' | 'linear'
}

/** Samples for a smooth pattern, whose likelihood is nearly normal, and for one with leaps, whose likelihood has edges. */
const SMOOTH = { count: 1500, burnIn: 100 }
// A leaping likelihood lies in patches; 4,000 samples see too few of them (fourth-order detent held 91 times in 100, with 12,000 93, with 30,000 94).
const LEAPING = { count: 12000, burnIn: 2000 }
const LINEAR_COUNT = 400
/** Spread tried for a parameter the data leave open. */
const OPEN = 0.05

const spreadOf = (fit: BlockFit, noise: Noise): number[][] => {
  const variance = noise.variance * noise.inflation
  const lower = fit.inverseNormal && cholesky(fit.inverseNormal.map((row) => row.map((value) => value * variance)))
  return lower ?? fit.places.map((_, i) => fit.places.map((__, j) => (i === j ? OPEN : 0)))
}

const linearSamples = (mode: readonly number[], lower: readonly (readonly number[])[], { count, seed }: { readonly count: number; readonly seed: number }): number[][] => {
  const random = seededRandom(seed)
  return Array.from({ length: count }, () => {
    const draw = mode.map(() => normal(random))
    return mode.map((value, i) => value + draw.reduce((sum, v, j) => sum + v * (lower[i]?.[j] ?? 0), 0))
  })
}

/** A share of the samples from one model. */
const sampleFit = (pattern: FoldedPattern, fit: BlockFit, { noise, share, seed, intervals }: RestSampling & { readonly noise: Noise; readonly share: number }): number[][] => {
  const mode = fit.places.map((place) => fit.parameters[place] as number)
  const logLikelihood = (free: readonly number[]): number => -devianceOf(pattern, noise, squaresOf(pattern, spreadParameters(free, fit.places))) / 2
  const plan = leaps(fit.parameters) ? LEAPING : SMOOTH
  const lower = spreadOf(fit, noise)
  const drawn = intervals === 'linear' ? linearSamples(mode, lower, { count: Math.round(share * LINEAR_COUNT), seed }) : metropolis(logLikelihood, mode, lower, { count: Math.round(share * plan.count), burnIn: plan.burnIn, seed })
  return drawn.map((free) => spreadParameters(free, fit.places))
}

/**
 * Parameter vectors drawn in proportion to their likelihood (flat prior over the free parameters): the quantiles of any figure
 * computed from them are its interval, edges, curvature and all. Where the second order can be read in two ways that fit alike,
 * each gives half, so that intervals hold both. `linear` draws from the fit's covariance instead, a hundred times faster,
 * blind to edges. Repeats with the seed.
 */
export const sampleRests = (pattern: FoldedPattern, { fit, noise, otherReading }: FullModel, sampling: RestSampling): number[][] => {
  if (otherReading === null) return sampleFit(pattern, fit, { ...sampling, noise, share: 1 })
  return [...sampleFit(pattern, fit, { ...sampling, noise, share: 0.5 }), ...sampleFit(pattern, otherReading, { ...sampling, noise, share: 0.5 })]
}
