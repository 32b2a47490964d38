import { describe, expect, it } from 'vitest'
import { mean, standardDeviation } from '#core/numeric/moments'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const draws = (count: number, draw: () => number): number[] => Array.from({ length: count }, draw)

describe('seeded random numbers', () => {
  it('repeats with the seed and differs without', () => {
    expect(draws(5, seededRandom(7))).toEqual(draws(5, seededRandom(7)))
    expect(draws(5, seededRandom(7))).not.toEqual(draws(5, seededRandom(8)))
  })

  // χ² with 99 degrees of freedom: 0.1 % and 99.9 % points 61.1 and 148.2 (tabulated)
  it('fills a hundred bins evenly', () => {
    const bins = new Array<number>(100).fill(0)
    for (const value of draws(100_000, seededRandom(1))) bins[Math.floor(value * 100)] = (bins[Math.floor(value * 100)] ?? 0) + 1
    const chiSquare = bins.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)
    expect(chiSquare).toBeGreaterThan(61.1)
    expect(chiSquare).toBeLessThan(148.2)
  })

  // standard errors of mean, s, third and fourth moment of 100,000 normals: 0.0032, 0.0022, 0.0122, 0.031; four of them allowed
  it('draws standard normals', () => {
    const random = seededRandom(2)
    const values = draws(100_000, () => normal(random))
    expect(Math.abs(mean(values))).toBeLessThan(0.0127)
    expect(Math.abs(standardDeviation(values) - 1)).toBeLessThan(0.009)
    expect(Math.abs(mean(values.map((v) => v ** 3)))).toBeLessThan(0.049)
    expect(Math.abs(mean(values.map((v) => v ** 4)) - 3)).toBeLessThan(0.125)
  })

  it('refuses a seed that is no number', () => {
    expect(() => seededRandom(Number.NaN)).toThrow(RangeError)
  })
})
