import { describe, expect, it } from 'vitest'
import { longRunSum } from '#core/numeric/long-run-sum'
import { seededRandom, normal } from '#core/numeric/seeded-random'

describe('variance of a sum of correlated values (Newey & West 1987, Bartlett weights 1 − lag/(lags + 1))', () => {
  it('is the sum of squares without lags', () => {
    expect(longRunSum(Float64Array.of(1, -2, 3), 0)).toBe(14)
  })

  it('weighs the products of neighbours by hand: 14 + 2·½·(−2 − 6)', () => {
    expect(longRunSum(Float64Array.of(1, -2, 3), 1)).toBe(6)
  })

  it('finds the long-run variance (1 + θ)² of a moving average x = a + θ·a before it, to the window’s bias', () => {
    const random = seededRandom(11)
    const white = Array.from({ length: 40_001 }, () => normal(random))
    const moving = Float64Array.from(white.slice(1), (a, i) => a + 0.5 * (white[i] as number))
    // Bartlett at 20 lags loses 2·θ/21 of 2.25; the estimate scatters by some √(4/3·20/40000) = 2.6 %.
    expect(longRunSum(moving, 20) / moving.length).toBeCloseTo(2.25 - 1 / 21, 0)
    expect(Math.abs(longRunSum(moving, 20) / moving.length / (2.25 - 1 / 21) - 1)).toBeLessThan(0.08)
  })

  it('is 0 for nothing', () => {
    expect(longRunSum(new Float64Array(0), 3)).toBe(0)
  })
})
