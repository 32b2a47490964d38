import { linearLeastSquares } from '#core/numeric/least-squares'
import { patternNoise, type PatternNoise } from './about-pattern.ts'
import { columnsOf, electricalWaves } from './waves.ts'

/** What the motor itself does not repeat from cycle to cycle, beyond its marks. */
export interface Unrepeated {
  /** Variance τ² of one command, deg². */
  readonly variance: number
  /** So many independent values the commands hold. */
  readonly values: number
  readonly degreesOfFreedom: number
}

/** Whatever a motor's pattern is made of in the main: offset, phases or stacks, detent and its overtone. */
const smoothOrders = [1, 2, 4, 8]

/** Where nothing came by twice, what smooth waves do not explain is the most that may not repeat. */
const aboutWaves = (counted: readonly number[], microsteps: number): PatternNoise | null => {
  const columns = electricalWaves(smoothOrders, microsteps).flatMap((wave) => columnsOf(wave, counted.length))
  const fit = linearLeastSquares([counted.map(() => 1), ...columns], counted)
  return fit && fit.degreesOfFreedom >= 2 ? { variance: fit.residualSumOfSquares / fit.degreesOfFreedom, degreesOfFreedom: fit.degreesOfFreedom, together: 1 } : null
}

/**
 * Scatter about the repeating pattern beyond marks of u.
 * @param errorsDeg e_0 … e_K
 * @returns zero variance where the marks explain it, or too little was marked to show any
 */
export const unrepeated = (errorsDeg: readonly number[], microsteps: number, uDeg: number): Unrepeated => {
  const noise = patternNoise(errorsDeg, microsteps, 0) ?? aboutWaves(errorsDeg.slice(1), microsteps)
  const more = noise === null ? 0 : Math.max(0, noise.variance - uDeg * uDeg)
  if (noise === null || more === 0) return { variance: 0, values: 1, degreesOfFreedom: 1 }
  return { variance: more / noise.together, values: (errorsDeg.length - 1) / noise.together, degreesOfFreedom: noise.degreesOfFreedom }
}
