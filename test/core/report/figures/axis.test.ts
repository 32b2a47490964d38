import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { axisOf, niceStep, scaleOf, ticksBetween, tickText } from '#core/report/figures/axis'

describe('ticks stand at 1, 2, 2.5 or 5 × 10ⁿ', () => {
  for (const [range, most, step] of [[1, 10, 0.1], [1, 6, 0.2], [9, 10, 1], [3200, 10, 500], [0.23, 6, 0.05], [7, 3, 2.5]] as const)
    it(`${range} in at most ${most} steps: ${step}`, () => expect(niceStep(range, most)).toBeCloseTo(step, 12))

  it('whole numbers only where things are counted', () => {
    expect(niceStep(3, 6, true)).toBe(1)
    expect(niceStep(24, 10, true)).toBe(3)
  })

  it('ends that fall on a tick are ticks, in spite of rounding', () => {
    expect(ticksBetween(-0.3, 0.3, 0.1)).toHaveLength(7)
  })
})

describe('an axis', () => {
  it('keeps its range inside its ends when rounded, with no more steps than asked and a few', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (low, width) => {
        const axis = axisOf(low, low + width, { label: 'x, deg', rounded: true })
        const slack = 1e-6 * (Math.abs(low) + width)
        expect(axis.low).toBeLessThanOrEqual(low + slack)
        expect(axis.high).toBeGreaterThanOrEqual(low + width - slack)
        expect(axis.ticks.length).toBeLessThanOrEqual(9)
      }),
    )
  })

  it('of no width is opened about its value', () => {
    const axis = axisOf(2, 2, { label: 'x, deg' })
    expect(axis.high).toBeGreaterThan(axis.low)
  })

  it('writes ticks with the decimals that tell them apart', () => {
    const axis = axisOf(0, 0.1, { label: 'x, deg' })
    expect(axis.ticks.map((tick) => tickText(axis, tick))).toEqual(['0.00', '0.02', '0.04', '0.06', '0.08', '0.10'])
  })

  it('maps its ends to the ends of the picture', () => {
    const at = scaleOf(axisOf(-1, 3, { label: 'x, deg' }), 10, 50)
    expect([at(-1), at(1), at(3)]).toEqual([10, 30, 50])
  })
})
