import normalCdf from '@stdlib/stats-base-dists-normal-cdf'

/** Where a value with its expanded uncertainty lies against limits: ISO 14253-1 with a guard band of U on either side. */
export type Zone = 'inside' | 'outside' | 'undecided'

/** Room for rounding at a limit. */
const rounding = 1e-9

/**
 * inside: within the limits beyond U (conformity proven); outside: beyond a limit by more than U (non-conformity proven);
 * undecided: the band of ±U about either limit.
 */
export const zoneOf = (value: number, expanded: number, { low, high }: { readonly low: number; readonly high: number }): Zone => {
  if (value - expanded >= low - rounding && value + expanded <= high + rounding) return 'inside'
  return value + expanded < low - rounding || value - expanded > high + rounding ? 'outside' : 'undecided'
}

/** Probability that the true value lies within the limits, the measured one being normal about it (JCGM 106, 7.2). */
export const conformanceProbability = (value: number, u: number, { low, high }: { readonly low: number; readonly high: number }): number =>
  u > 0 ? normalCdf(high, value, u) - normalCdf(low, value, u) : Number(value >= low && value <= high)
