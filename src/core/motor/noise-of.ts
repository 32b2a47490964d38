import fCdf from '@stdlib/stats-base-dists-f-cdf'
import type { FoldedPattern } from './folded-pattern.ts'

/** What one rest's error is measured against. */
export interface Noise {
  /** `stated`: the marks' own u, with which the residuals agree; `residuals`: their scatter, because it is larger or u is not known. */
  readonly source: 'stated' | 'residuals'
  /** Variance of one rest, electrical rad², as if the rests were independent. */
  readonly variance: number
  /** Degrees of freedom of that variance. */
  readonly freedom: number
  /** Rests of one phase stand farther apart from cycle to cycle than the stated u lets them, at 1 %; false where u is not known. */
  readonly scatters: boolean
  /** By how much the variance of a mean over whole full steps exceeds that of independent rests; 1 when nothing is shared. */
  readonly inflation: number
}

/** Degrees of freedom that stand for 'known'. */
const KNOWN = 1e7

/** Probability that a ratio of two variances comes out this large by chance. */
export const chanceOfRatio = (ratio: number, above: number, below: number): number =>
  above > 0 && below > 0 && ratio > 0 ? 1 - fCdf(ratio, above, below) : 1

/**
 * Share of the scatter that whole full steps have in common, judged at 1 %. Rests that are all one mark, as merged commands
 * are, count as one: more than N times the variance cannot be shared.
 */
const inflationOf = ({ scatterSquares, scatterFreedom, sharedSquares, sharedGroups, phases }: FoldedPattern): number => {
  const within = scatterFreedom - sharedGroups
  if (within < sharedGroups || scatterSquares <= sharedSquares) return 1
  const ratio = sharedSquares / sharedGroups / ((scatterSquares - sharedSquares) / within)
  return chanceOfRatio(ratio, sharedGroups, within) < 0.01 ? Math.min(ratio, phases / 4) : 1
}

/**
 * Judges the residuals of the fullest model (`squares` between cells and model, `free` parameters) against the stated u at
 * 1 %: larger ones mean that teeth, repeatability or the model itself add to the marks, and then the residuals speak.
 */
export const noiseOf = (pattern: FoldedPattern, squares: number, free: number): Noise => {
  const freedom = pattern.rests - free
  const variance = (squares + pattern.scatterSquares) / Math.max(freedom, 1)
  const stated = pattern.u ** 2
  const agrees = stated > 0 && (freedom <= 0 || chanceOfRatio(variance / stated, freedom, KNOWN) >= 0.01)
  const shared = { inflation: inflationOf(pattern), scatters: stated > 0 && chanceOfRatio(pattern.scatterSquares / pattern.scatterFreedom / stated, pattern.scatterFreedom, KNOWN) < 0.01 }
  return agrees ? { source: 'stated', variance: stated, freedom: KNOWN, ...shared } : { source: 'residuals', variance, freedom, ...shared }
}

/** −2·log likelihood of a model that leaves these squares between cells and model, up to a constant. */
export const devianceOf = (pattern: FoldedPattern, noise: Noise, squares: number): number =>
  noise.source === 'stated'
    ? squares / (noise.variance * noise.inflation)
    : (pattern.rests / noise.inflation) * Math.log(squares + pattern.scatterSquares)
