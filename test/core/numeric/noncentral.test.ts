import chiSquaredQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import fCdf from '@stdlib/stats-base-dists-f-cdf'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { describe, expect, it } from 'vitest'
import { noncentralScore } from '#core/numeric/noncentral-chi-squared'
import { noncentralF } from '#core/numeric/noncentral-f'

describe('noncentralScore', () => {
  it('is the central chi-squared without noncentrality (quantiles of an independent library), to 0.002', () => {
    for (const freedom of [8, 20, 95])
      for (const p of [0.01, 0.05, 0.5, 0.95, 0.99]) expect(Math.abs(normalCdf(noncentralScore(chiSquaredQuantile(p, freedom), freedom, 0), 0, 1) - p)).toBeLessThan(0.002)
  })

  // Central F with infinitely many degrees of freedom below is chi-squared over its own, so both kernels must agree.
  it('agrees with the Poisson mixture to 0.002', () => {
    for (const [freedom, noncentrality] of [[15, 5], [95, 30], [159, 400]] as const)
      for (const x of [0.8, 1, 1.2]) {
        const sum = x * (freedom + noncentrality)
        expect(Math.abs(normalCdf(noncentralScore(sum, freedom, noncentrality), 0, 1) - noncentralF(sum / freedom, [freedom, 1e9], noncentrality))).toBeLessThan(0.002)
      }
  })
})

describe('noncentralF', () => {
  it('is the central F without noncentrality', () => {
    expect(noncentralF(3, [2, 80], 0)).toBeCloseTo(fCdf(3, 2, 80), 12)
  })

  it('gives the length of a two-dimensional normal vector about its own mean (closed form at zero: 1 − exp(−r²/2))', () => {
    expect(noncentralF(2, [2, 1e9], 0)).toBeCloseTo(1 - Math.exp(-2), 6)
  })

  it('falls as the noncentrality grows', () => {
    const values = [0, 1, 4, 16, 64, 256].map((noncentrality) => noncentralF(20, [2, 80], noncentrality))
    expect(values).toEqual(values.toSorted((a, b) => b - a))
  })
})
