import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import { tailsAt, unifiedInterval } from '#core/numeric/unified-interval'

/** A normal observation of unit deviation of a mean that cannot be negative. */
const interval = (observed: number): readonly [number, number] =>
  unifiedInterval({ probabilityBelow: (mean) => normalCdf(observed, mean, 1), distance: (mean) => mean, scale: Math.max(1, observed) })

/** Acceptance of one mean by the paper's recipe on a grid: points taken in order of likelihood ratio until 95 % are in. */
const acceptedByRecipe = (mean: number): readonly [number, number] => {
  const step = 0.002
  const grid = Array.from({ length: 8001 }, (_, i) => mean - 8 + i * step)
  const density = (x: number, at: number): number => Math.exp(-((x - at) ** 2) / 2) / Math.sqrt(2 * Math.PI)
  const ordered = grid.toSorted((a, b) => density(b, mean) / density(b, Math.max(0, b)) - density(a, mean) / density(a, Math.max(0, a)))
  const taken: number[] = []
  for (let held = 0, i = 0; held < 0.95 && i < ordered.length; i++) {
    held += step * density(ordered[i] ?? 0, mean)
    taken.push(ordered[i] ?? 0)
  }
  return [Math.min(...taken), Math.max(...taken)]
}

describe('unifiedInterval', () => {
  // Reference: the recipe of Feldman & Cousins, Phys. Rev. D 57 (1998) 3873, section IV B, worked on a grid of 0.002.
  for (const mean of [0.1, 0.5, 1, 1.5, 2.5])
    it(`accepts a mean of ${mean} for just those observations the recipe accepts`, () => {
      const [least, most] = acceptedByRecipe(mean)
      const { below, above } = tailsAt(mean)
      expect(Math.abs(mean + above - most)).toBeLessThan(0.005)
      expect(Math.abs(mean - below - Math.max(least, mean - 8))).toBeLessThan(mean < 0.3 ? Number.POSITIVE_INFINITY : 0.02)
    })

  // Same paper, Table X, 95 % column (from memory): nothing observed allows up to 1.96, an observation of 2 from 0.35 to 3.96.
  it('gives 0 to 1.96 for nothing observed and 0.35 to 3.96 for two', () => {
    expect(interval(0)[1]).toBeCloseTo(1.96, 2)
    expect(interval(2)[0]).toBeCloseTo(0.35, 1)
    expect(interval(2)[1]).toBeCloseTo(3.96, 2)
  })

  it('is the plain two-sided interval far from zero', () => {
    const [low, high] = interval(10)
    expect(low).toBeCloseTo(10 - 1.959964, 5)
    expect(high).toBeCloseTo(10 + 1.959964, 5)
  })

  it('widens upward with the observation', () => {
    const highs = [-2, -1, 0, 1, 2, 3, 4].map((x) => interval(x)[1])
    expect(highs).toEqual(highs.toSorted((a, b) => a - b))
  })
})
