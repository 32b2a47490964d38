import { describe, expect, it } from 'vitest'
import type { StrokeFit } from '#core/detect/fit-stroke'
import { pulledAside } from '#core/detect/pulled-aside'

const stroke = (more: Partial<StrokeFit> & { readonly width?: number }): StrokeFit => ({
  model: { middle: [0, 0], along: [1, 0], halfLength: 20, bow: [0, 0, 0], halfWidth: (more.width ?? 4) / 2, sigma: 1, amplitudes: [100, 100] },
  noise: 2, uOffset: 0.01, outliers: 0, clumping: 1, paper: 200, ...more,
})

describe('how far a stroke may be pulled aside', () => {
  it('is the fit’s own uncertainty where the noise is white and the strokes alike', () => {
    expect(pulledAside([stroke({}), stroke({}), stroke({})])).toEqual([0.01, 0.01, 0.01])
  })

  it('takes the usual noise for a stroke that saw little of it, and its own where it is far above', () => {
    const [quiet, , , loud] = pulledAside([stroke({ clumping: 0.2 }), stroke({}), stroke({}), stroke({ clumping: 18 }), stroke({})])
    expect(quiet).toBeCloseTo(0.01, 12)
    expect(loud).toBeCloseTo(0.01 * Math.sqrt(18 / 2), 12)
  })

  it('doubts a stroke whose width is not the pen’s by half the difference', () => {
    const all = pulledAside([stroke({}), stroke({}), stroke({}), stroke({}), stroke({ width: 5 })])
    expect(all[4]).toBeCloseTo(Math.hypot(0.01, 0.5), 12)
    expect(all[0]).toBeCloseTo(0.01, 12)
  })

  it('keeps the uncertainty of a fit without noise', () => {
    expect(pulledAside([stroke({ noise: 0, uOffset: 0.3 }), stroke({}), stroke({})])[0]).toBe(0.3)
  })
})
