import { describe, expect, it } from 'vitest'
import { metropolis } from '#core/numeric/metropolis'
import { mean, quantileOfSorted, standardDeviation } from '#core/numeric/moments'

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b)

describe('Metropolis–Hastings samples', () => {
  it('have the moments of a correlated normal', () => {
    // density exp(−½(x² − 2·0.6xy + y²)/(1 − 0.36)): unit variances, correlation 0.6
    const log = ([x = 0, y = 0]: readonly number[]): number => -(x * x - 1.2 * x * y + y * y) / (2 * 0.64)
    const samples = metropolis(log, [0, 0], [[1, 0], [0, 1]], { count: 20_000, burnIn: 500, seed: 1 })
    // about one independent sample in five: standard error of a mean 0.016, of s 0.011; four of them allowed
    for (const i of [0, 1]) {
      const values = samples.map((sample) => sample[i] ?? 0)
      expect(Math.abs(mean(values))).toBeLessThan(0.064)
      expect(Math.abs(standardDeviation(values) - 1)).toBeLessThan(0.045)
    }
    expect(Math.abs(mean(samples.map(([x = 0, y = 0]) => x * y)) - 0.6)).toBeLessThan(0.08)
  })

  it('keep to one side of an edge: half normal, quantiles from the normal table', () => {
    const log = ([x = 0]: readonly number[]): number => (x < 0 ? Number.NEGATIVE_INFINITY : (-x * x) / 2)
    const values = sorted(metropolis(log, [0.5], [[1]], { count: 20_000, burnIn: 500, seed: 2 }).map(([x = 0]) => x))
    expect(values[0]).toBeGreaterThanOrEqual(0)
    expect(Math.abs(quantileOfSorted(values, 0.5) - 0.6745)).toBeLessThan(0.05)
    expect(Math.abs(quantileOfSorted(values, 0.95) - 1.96)).toBeLessThan(0.1)
  })

  it('repeat with the seed', () => {
    const log = ([x = 0]: readonly number[]): number => (-x * x) / 2
    const plan = { count: 50, burnIn: 10, seed: 3 }
    expect(metropolis(log, [0], [[1]], plan)).toEqual(metropolis(log, [0], [[1]], plan))
    expect(metropolis(log, [0], [[1]], plan)).not.toEqual(metropolis(log, [0], [[1]], { ...plan, seed: 4 }))
  })
})
