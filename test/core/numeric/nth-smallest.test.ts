import { nthSmallest } from '#core/numeric/nth-smallest'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

describe('value of a rank', () => {
  it('by hand: of 5, 1, 4 the smallest is 1, the middle one 4, the greatest 5', () => {
    expect([0, 1, 2].map((rank) => nthSmallest(Float64Array.of(5, 1, 4), rank))).toEqual([1, 4, 5])
  })

  it('is what sorting gives, for every rank and with many equal values', () => {
    const random = seededRandom(4)
    for (let size = 1; size < 40; size++) {
      const values = Float64Array.from({ length: size }, () => Math.floor(10 * random()))
      const sorted = values.slice().sort()
      expect(Array.from(values, (_, rank) => nthSmallest(values.slice(), rank))).toEqual([...sorted])
    }
  })

  it('is NaN where there is no such rank', () => {
    expect(nthSmallest(new Float64Array(0), 0)).toBeNaN()
    expect(nthSmallest(Float64Array.of(1), 1)).toBeNaN()
  })
})
