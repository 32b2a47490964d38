import { cholesky, choleskySolve } from '#core/numeric/cholesky'
import { median } from '#core/numeric/median'

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

const terms = (angle: number): readonly number[] => [1, Math.cos(angle), Math.sin(angle), Math.cos(2 * angle), Math.sin(2 * angle)]

const weightedFit = (radii: Float64Array, basis: readonly (readonly number[])[], weights: Float64Array): readonly number[] | null => {
  const normal = Array.from({ length: 5 }, () => new Array<number>(5).fill(0))
  const right = new Array<number>(5).fill(0)
  for (let n = 0; n < radii.length; n++) {
    const weight = weights[n] as number
    if (weight === 0) continue
    const row = basis[n] as readonly number[]
    for (let i = 0; i < 5; i++) {
      const wi = weight * (row[i] as number)
      right[i] = (right[i] as number) + wi * ((radii[n] as number) - 1)
      for (let j = 0; j < 5; j++) (normal[i] as number[])[j] = ((normal[i] as number[])[j] as number) + wi * (row[j] as number)
    }
  }
  const lower = cholesky(normal)
  return lower && choleskySolve(lower, right)
}

/**
 * Least squares over the rays that have a radius, those far from the rest weighted down (Tukey's biweight, 4.7 robust
 * deviations). Null when fewer than 60 % of the rays agree.
 */
export const fitRadii = (radii: Float64Array): RadiiFit | null => {
  const basis = Array.from(radii, (_, n) => terms((2 * Math.PI * n) / radii.length))
  const middle = median(Array.from(radii).filter((r) => !Number.isNaN(r)))
  let weights = radii.map((r) => (Math.abs(r - middle) < 0.12 ? 1 : 0))
  let solution: readonly number[] | null = null
  let spread = 0
  for (let round = 0; round < 4; round++) {
    solution = weightedFit(radii, basis, weights)
    if (solution === null) return null
    const found = solution
    const misses = radii.map((r, n) => r - 1 - (basis[n] as readonly number[]).reduce((sum, term, i) => sum + term * (found[i] as number), 0))
    spread = 1.4826 * median(Array.from(misses).filter((miss) => !Number.isNaN(miss)).map(Math.abs))
    const reach = 4.7 * Math.max(spread, 1e-3)
    weights = misses.map((miss) => (Math.abs(miss) < reach ? (1 - (miss / reach) ** 2) ** 2 : 0))
  }
  const share = weights.filter((weight) => weight > 0.3).length / radii.length
  if (solution === null || share < 0.6) return null
  const [size = 0, x = 0, y = 0, along = 0, across = 0] = solution
  return { size, x, y, along, across, spread, share }
}
