import { weightedQuantile } from '#core/numeric/weighted-quantile'
import { describe, expect, it } from 'vitest'

const of = (pairs: readonly (readonly [value: number, weight: number])[], share: number): number => weightedQuantile(pairs, share, ([v]) => v, ([, w]) => w)

describe('a quantile of weighed values', () => {
  it('is that of as many equal values as each weighs (by hand: 1 1 1 5 7 7)', () => {
    const pairs = [[7, 2], [1, 3], [5, 1]] as const
    expect([0.25, 0.5, 0.6, 0.9, 1].map((q) => of(pairs, q))).toEqual([1, 1, 5, 7, 7])
  })

  it('is the heaviest value where that outweighs the rest, and NaN of none', () => {
    expect(of([[1, 1], [2, 1], [9, 3]], 0.5)).toBe(9)
    expect(of([], 0.5)).toBeNaN()
  })
})
