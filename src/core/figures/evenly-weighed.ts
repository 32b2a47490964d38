import { sum } from '#core/numeric/moments'

/** A mean square error about the mean, and so many commands of equal weight it is worth. */
export interface Spread {
  readonly total: number
  readonly worth: number
}

/**
 * Mean square error in which every phase of the electrical cycle weighs alike, however often it came by: a part of a cycle
 * more lets some weigh more in the plain mean.
 * @param counted e_1 … e_K, at least one cycle of 4N
 */
export const evenlyWeighed = (counted: readonly number[], microsteps: number): Spread => {
  const period = 4 * microsteps
  const weights = counted.map((_, i) => 1 / period / (Math.floor((counted.length - 1 - (i % period)) / period) + 1))
  const centre = sum(counted.map((e, i) => (weights[i] as number) * e))
  return {
    total: sum(counted.map((e, i) => (weights[i] as number) * (e - centre) ** 2)),
    worth: 1 / sum(weights.map((weight) => weight * weight)),
  }
}
