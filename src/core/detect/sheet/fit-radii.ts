import { median, robustSpread } from '#core/numeric/median'
import { solveNormal, twoWaves } from '#core/numeric/normal-equations'

/** r(t) = 1 + size + x·cos t + y·sin t + along·cos 2t + across·sin 2t: how far traced radii are from a circle of radius 1. */
export interface RadiiFit {
  readonly size: number
  readonly x: number
  readonly y: number
  readonly along: number
  readonly across: number
  /** Robust standard deviation of the radii about the fit. */
  readonly spread: number
  /** Part of the rays that agree with the fit. */
  readonly share: number
}

/**
 * Least squares over the rays that have a radius, those far from the rest weighted down (Tukey's biweight, 4.7 robust
 * deviations). Null when fewer than 60 % of the rays agree.
 */
export const fitRadii = (radii: Float64Array): RadiiFit | null => {
  const basis = Array.from(radii, (_, n) => twoWaves((2 * Math.PI * n) / radii.length))
  const middle = median(Array.from(radii).filter((r) => !Number.isNaN(r)))
  // Rays without a radius have no weight.
  const off = radii.map((r) => r - 1)
  let weights = radii.map((r) => (Math.abs(r - middle) < 0.12 ? 1 : 0))
  let solution: readonly number[] | null = null
  let spread = 0
  for (let round = 0; round < 4; round++) {
    solution = solveNormal(basis, off, weights)
    if (solution === null) return null
    const found = solution
    const misses = radii.map((r, n) => r - 1 - (basis[n] as readonly number[]).reduce((sum, term, i) => sum + term * (found[i] as number), 0))
    spread = robustSpread(misses.filter((miss) => !Number.isNaN(miss)))
    const reach = 4.7 * Math.max(spread, 1e-3)
    weights = misses.map((miss) => (Math.abs(miss) < reach ? (1 - (miss / reach) ** 2) ** 2 : 0))
  }
  const share = weights.filter((weight) => weight > 0.3).length / radii.length
  if (solution === null || share < 0.6) return null
  const [size = 0, x = 0, y = 0, along = 0, across = 0] = solution
  return { size, x, y, along, across, spread, share }
}
