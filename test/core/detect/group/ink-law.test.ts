import { amplitudeOf, greyLeft, shareOf, steepness } from '#core/detect/group/ink-law'
import { describe, expect, it } from 'vitest'

const PEN = { halfWidth: 1, sigma: 1 }

describe('grey levels that ink leaves', () => {
  it('are all of the paper without ink, and half of it where 1 − 2^−2.2 of the light is taken (by hand)', () => {
    expect(greyLeft(0)).toBe(1)
    expect(greyLeft(1 - 2 ** -2.2)).toBeCloseTo(0.5, 5)
  })

  it('are less under the blur of two strokes than two strokes by themselves would leave', () => {
    expect(1 - greyLeft(0.6)).toBeGreaterThan(2 * (1 - greyLeft(0.3)))
  })

  it('fall as fast as said, and on beyond all light, where a fit may stray', () => {
    for (const ink of [0.05, 0.5, 0.9, 0.969, 0.971, 1.2]) {
      // Over two places of the table, where it bends least off the curve.
      const slope = (greyLeft(ink - 1 / 1024) - greyLeft(ink + 1 / 1024)) * 512
      expect(steepness(ink, greyLeft(ink)) / slope).toBeCloseTo(1, 2)
    }
  })

  it('turn into shares of light and back', () => {
    for (const amplitude of [1, 40, 120, 200]) expect(amplitudeOf(shareOf(amplitude, PEN, 210), PEN, 210)).toBeCloseTo(amplitude, 2)
  })
})
