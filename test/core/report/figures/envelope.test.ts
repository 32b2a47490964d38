import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { envelopeOf } from '#core/report/figures/envelope'

describe('an envelope', () => {
  it('keeps every value within its stretch and both extremes of the whole', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), { minLength: 1, maxLength: 500 }), fc.integer({ min: 1, max: 60 }), (values, most) => {
        const stretches = envelopeOf(values, values, most)
        expect(stretches.length).toBeLessThanOrEqual(most)
        expect(Math.max(...stretches.map(({ high }) => high))).toBe(Math.max(...values))
        expect(Math.min(...stretches.map(({ low }) => low))).toBe(Math.min(...values))
        for (const { from, to, low, high } of stretches) for (const value of values.slice(from, to + 1)) expect(value >= low && value <= high).toBe(true)
        expect(stretches.reduce((sum, { from, to }) => sum + to - from + 1, 0)).toBe(values.length)
      }),
    )
  })

  it('is the values themselves where there is room for all', () => {
    expect(envelopeOf([3, 1], [3, 1], 10)).toEqual([
      { from: 0, to: 0, low: 3, high: 3 },
      { from: 1, to: 1, low: 1, high: 1 },
    ])
  })

  it('of nothing is nothing', () => {
    expect(envelopeOf([], [], 10)).toEqual([])
  })
})
