import { describe, expect, it } from 'vitest'
import { parabolaTop } from '#core/numeric/parabola-top'

describe('the top of a parabola through three values', () => {
  it('is where a parabola has it: −(x − 0.3)² at −1, 0, 1', () => {
    expect(parabolaTop(-(1.3 ** 2), -(0.3 ** 2), -(0.7 ** 2))).toBeCloseTo(0.3, 14)
  })

  it('lies on the other side for values the other way round, and stays for values that grow', () => {
    expect(parabolaTop(1, 5, 2)).toBeCloseTo(-parabolaTop(2, 5, 1), 15)
    expect(parabolaTop(10, 50, 20)).toBeCloseTo(parabolaTop(1, 5, 2), 15)
  })

  it('is the middle value where the three have no top', () => {
    expect(parabolaTop(3, 1, 2)).toBe(0)
    expect(parabolaTop(1, 2, 3)).toBe(0)
  })
})
