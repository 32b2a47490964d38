const STEPS_PER_UNIT = 256
const REACH = 4

/** erf(x) by Abramowitz & Stegun 7.1.26; absolute error below 1.5e-7. */
export const erf = (x: number): number => {
  const t = 1 / (1 + 0.3275911 * Math.abs(x))
  const poly = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t
  const value = 1 - poly * Math.exp(-x * x)
  return x < 0 ? -value : value
}

/** erf(i/256) from 0 up to just beyond 4. */
export const erfTable = Float64Array.from({ length: REACH * STEPS_PER_UNIT + 2 }, (_, i) => erf(i / STEPS_PER_UNIT))

/** erf(x) from a table with linear interpolation, for inner loops; absolute error below 4e-6. */
export const quickErf = (x: number): number => {
  const size = Math.abs(x) * STEPS_PER_UNIT
  if (size >= REACH * STEPS_PER_UNIT) return x < 0 ? -1 : 1
  const i = Math.floor(size)
  const value = (erfTable[i] as number) + (size - i) * ((erfTable[i + 1] as number) - (erfTable[i] as number))
  return x < 0 ? -value : value
}

/** Density of the standard normal distribution at i/256 from 0 up to just beyond 6. */
export const bellTable = Float64Array.from({ length: 6 * STEPS_PER_UNIT + 2 }, (_, i) => Math.exp(-0.5 * (i / STEPS_PER_UNIT) ** 2) / Math.sqrt(2 * Math.PI))

/** Density of the standard normal distribution from a table with linear interpolation; 0 beyond 6; absolute error below 1e-6. */
export const quickBell = (x: number): number => {
  const size = Math.abs(x) * STEPS_PER_UNIT
  if (size >= 6 * STEPS_PER_UNIT) return 0
  const i = Math.floor(size)
  const low = bellTable[i] as number
  return low + (size - i) * ((bellTable[i + 1] as number) - low)
}
