import { fold } from './repeat-pattern.ts'

/** Variance of one position error about what repeats, deg², and how well it is known. */
export interface Noise {
  readonly variance: number
  readonly degreesOfFreedom: number
}

const fewest = 8

/**
 * How far errors at the same phase of the electrical cycle scatter from cycle to cycle: marks and motor together, the
 * repeating pattern left out whatever its shape.
 * @param errorsDeg e_0 … e_K
 * @param spent further numbers fitted to the errors beforehand
 * @returns null with fewer than eight degrees of freedom
 */
export const cycleNoise = (errorsDeg: readonly number[], microsteps: number, spent = 0): Noise | null => {
  const period = 4 * microsteps
  const degreesOfFreedom = errorsDeg.length - 1 - period - spent
  if (degreesOfFreedom < fewest) return null
  return { variance: fold(errorsDeg, period).residualSumOfSquares / degreesOfFreedom, degreesOfFreedom }
}
