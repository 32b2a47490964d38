import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/** One named part of the uncertainty of an angle at the shaft. */
export interface Contribution {
  readonly source: string
  /** Standard uncertainty, deg at the shaft. */
  readonly uDeg: number
  /** `mark`: its own for every mark, stays in increments; `common`: shared by neighbours, cancels in increments. */
  readonly kind: 'mark' | 'common'
  /** How well it is known; null for a value taken as given (infinitely many, JCGM 100, G.4.3). */
  readonly degreesOfFreedom: number | null
  /** Where it comes from and what was assumed. */
  readonly note: string
}

/** Independent parts added in quadrature (JCGM 100, equation 10 with unit sensitivities). */
export const combined = (parts: readonly Pick<Contribution, 'uDeg'>[]): number => Math.hypot(...parts.map(({ uDeg }) => uDeg))

/**
 * Effective degrees of freedom of independent parts (Welch–Satterthwaite, JCGM 100, G.4.1), not truncated.
 * @returns null when they are without limit: nothing that counts was estimated from a sample
 */
export const effectiveDegreesOfFreedom = (parts: readonly Pick<Contribution, 'uDeg' | 'degreesOfFreedom'>[]): number | null => {
  const fourths = parts.reduce((sum, { uDeg, degreesOfFreedom }) => sum + (degreesOfFreedom === null ? 0 : uDeg ** 4 / degreesOfFreedom), 0)
  return fourths > 0 ? combined(parts) ** 4 / fourths : null
}

/** Coverage probability that belongs to a factor of 2 when the degrees of freedom are without limit. */
export const coverageProbability = 0.9545

/** What stands for "without limit" where a distribution wants a number. */
const withoutLimit = 1e6

/**
 * Coverage factor k: Student's t for 95.45 % (JCGM 100, Table G.2), which is 2 where the degrees of freedom are without
 * limit. Degrees of freedom are rounded to a tenth and then truncated, as G.4.1 does it.
 */
export const coverageFactorFor = (degreesOfFreedom: number | null, probability: number = coverageProbability): number => {
  if (degreesOfFreedom === null && probability === coverageProbability) return 2
  const whole = degreesOfFreedom === null ? withoutLimit : Math.max(1, Math.floor(Math.round(10 * degreesOfFreedom) / 10))
  return tQuantile((1 + probability) / 2, whole)
}

/** Degrees of freedom of an uncertainty that is itself only known to a fraction of its size (JCGM 100, G.4.2). */
export const degreesOfFreedomFrom = (relativeUncertainty: number): number | null => (relativeUncertainty > 0 ? 0.5 / relativeUncertainty ** 2 : null)
