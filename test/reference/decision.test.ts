import { describe, expect, it } from 'vitest'
import { conformanceProbability, zoneOf } from '#core/decide/zone'

// Zones of ISO 14253-1 with a guard band of U (k = 2), as worked on a public page about ILAC-G8: permitted ±0.003 mm, U = 0.0010 mm.
describe('zones at a limit of ±0.003 mm with U = 0.0010 mm', () => {
  const limits = { low: -0.003, high: 0.003 }
  it('+0.0017 is proven, +0.0020 just so', () => {
    expect(zoneOf(0.0017, 0.001, limits)).toBe('inside')
    expect(zoneOf(0.002, 0.001, limits)).toBe('inside')
  })
  it('+0.0025 and +0.0035 lie in the band about the limit: neither proven', () => {
    expect(zoneOf(0.0025, 0.001, limits)).toBe('undecided')
    expect(zoneOf(0.0035, 0.001, limits)).toBe('undecided')
  })
  it('+0.0042 and −0.0042 are proven outside', () => {
    expect(zoneOf(0.0042, 0.001, limits)).toBe('outside')
    expect(zoneOf(-0.0042, 0.001, limits)).toBe('outside')
  })
})

// JCGM 106:2012, 7.3 example 1 (from memory; the arithmetic is Φ(1.4)).
it('breakdown voltage −5.47 V, u 0.05 V, at most −5.40 V: conforms with probability 0.92', () => {
  expect(conformanceProbability(-5.47, 0.05, { low: Number.NEGATIVE_INFINITY, high: -5.4 })).toBeCloseTo(0.919243, 6)
})

// Risk of a wrong acceptance at the acceptance limit, guard band w in units of U = 2u (ILAC-G8:09/2019, table 1, and Φ(−2w/U)).
describe('risk at the acceptance limit', () => {
  const cases = [
    [0, 0.5],
    [0.5, 0.15866],
    [0.83, 0.04846],
    [1, 0.02275],
    [1.5, 0.0013499],
  ] as const
  for (const [band, risk] of cases)
    it(`guard band ${band} U: ${risk}`, () => {
      const u = 0.5
      expect(1 - conformanceProbability(1 - band, u, { low: Number.NEGATIVE_INFINITY, high: 1 })).toBeCloseTo(risk, 5)
    })
})
