/** One named part of the uncertainty of an angle at the shaft. */
export interface Contribution {
  readonly source: string
  /** Standard uncertainty, deg at the shaft. */
  readonly uDeg: number
  /** `mark`: its own for every mark, stays in increments; `common`: shared by neighbours, cancels in increments. */
  readonly kind: 'mark' | 'common'
}

/** Independent parts added in quadrature (JCGM 100, equation 10 with unit sensitivities). */
export const combined = (parts: readonly Contribution[]): number => Math.hypot(...parts.map(({ uDeg }) => uDeg))
