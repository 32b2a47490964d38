import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { dealtOut } from '#core/numeric/dealt-out'
import { mean } from '#core/numeric/moments'
import type { Increment } from './mode-increments.ts'

/** How far out the worst of so many normal errors lies at most, with the given probability, in standard deviations. */
export const worstOf = (howMany: number, probability: number): number => normalQuantile(1 - (1 - probability ** (1 / howMany)) / 2, 0, 1)

/** Chance that no increment of a motor that repeats is taken for an exception. */
const unexceptional = 0.975

export interface LikelyOptions {
  /** Increments in one electrical cycle of the mode. */
  readonly phases: number
  readonly coverageFactor: number
  /** What an increment is taken for where less than two cycles were measured: nominal, or as it was read. */
  readonly alone: 'nominal' | 'as read'
}

/**
 * The likeliest true sizes of increments as read: each is taken for the mean of those at its phase of the electrical
 * cycle, unless it stands further from it than marking would throw the worst of so many.
 */
export const likelySizes = (increments: readonly Increment[], { phases, coverageFactor, alone }: LikelyOptions): number[] => {
  const cycles = increments.length / phases
  if (cycles < 2 && alone === 'as read') return increments.map(({ size }) => size)
  const means = cycles < 2 ? new Array<number>(phases).fill(1) : dealtOut(increments.map(({ size }) => size), phases).map(mean)
  const ownShare = cycles < 2 ? 1 : Math.sqrt(1 - 1 / Math.floor(cycles))
  const reach = (worstOf(increments.length, unexceptional) * ownShare) / coverageFactor
  return increments.map(({ size, expanded }, i) => {
    const usual = means[i % phases] ?? size
    return Math.abs(size - usual) > reach * expanded ? size : usual
  })
}
