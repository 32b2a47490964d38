/** What one command did, as far as the marks can tell. */
export type Motion = 'moved' | 'merged' | 'reversed'

/** Coverage factor of an expanded uncertainty that was not estimated from few repeats: 95.45 % of a normal distribution. */
export const coverageFactor = 2

/** U_g = k·√2·u: two independent marks; coverage factor 2 unless another is due. */
export const incrementU = (uDeg: number, factor: number = coverageFactor): number => factor * Math.SQRT2 * uDeg

/** Room for rounding, so that a repeated number counts as no motion: a billionth of a microstep. */
const rounding = 1e-9

/**
 * merged: |g| ≤ U_g, this rest cannot be told from the last one; reversed: g < −U_g, the shaft moved backwards.
 * @param incrementsDeg g_1 … g_K
 * @param expandedDeg U_g of each
 */
export const motionsOf = (incrementsDeg: readonly number[], expandedDeg: readonly number[], microstepDeg: number): Motion[] =>
  incrementsDeg.map((g, i) => {
    const limit = (expandedDeg[i] ?? 0) + rounding * microstepDeg
    return g < -limit ? 'reversed' : g <= limit ? 'merged' : 'moved'
  })

/** U_g of increments 1 … K from the standard uncertainties of rests 0 … K, deg. */
export const incrementsU = (uDeg: readonly number[], factor: number = coverageFactor): number[] =>
  uDeg.slice(1).map((u, i) => factor * Math.hypot(u, uDeg[i] ?? 0))
