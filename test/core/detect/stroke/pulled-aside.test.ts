import { describe, expect, it } from 'vitest'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { Point } from '#core/detect/raster'
import { pulledAside } from '#core/detect/stroke/pulled-aside'

let next = 0
/** Strokes aslant across the photo's rows, 30 px apart, but where a test says where one lies or how. */
const stroke = ({ at = 30 * next++, along: [x, y] = [0.8, 0.6], ...more }: Partial<StrokeFit> & { readonly width?: number; readonly at?: number; readonly bend?: number; readonly along?: Point }): StrokeFit => ({
  model: { middle: [-y * at, x * at], along: [x, y], halfLength: 20, bow: [0, 0, more.bend ?? 0], halfWidth: (more.width ?? 4) / 2, sigma: 1, amplitudes: [100, 100] },
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

  it('doubts a stroke that looks wider than the others by half the difference', () => {
    const all = pulledAside([stroke({}), stroke({}), stroke({}), stroke({}), stroke({ width: 5 })])
    // A blur of 1 px is seen 3.1 px wide.
    expect(all[4]).toBeCloseTo(Math.hypot(0.01, (Math.hypot(5, 3.1) - Math.hypot(4, 3.1)) / 2), 12)
    expect(all[0]).toBeCloseTo(0.01, 12)
  })

  it('does not doubt widths that a slanting view makes, nor width that traded places with blur', () => {
    const slanting = pulledAside(Array.from({ length: 60 }, (_, i) => stroke({ width: i < 45 ? 4 : 4 + 0.05 * (i - 45) })))
    expect(slanting[50]).toBeCloseTo(0.01, 9)
    const usual = stroke({})
    const traded = { ...usual, model: { ...usual.model, middle: [0, 9000] as const, halfWidth: 1.6, sigma: Math.sqrt(3.1 ** 2 + 16 - 3.2 ** 2) / 3.1 } }
    expect(pulledAside([traded, stroke({}), stroke({}), stroke({}), stroke({})])[0]).toBeCloseTo(0.01, 9)
  })

  it('doubts a stroke that bends unlike the others by half of what it bends more', () => {
    const all = pulledAside([stroke({}), stroke({}), stroke({}), stroke({ bend: -1.6 })])
    expect(all[3]).toBeCloseTo(Math.hypot(0.01, 0.8), 12)
    expect(all[0]).toBeCloseTo(0.01, 12)
  })

  it('doubts strokes that run into each other by eight hundredths of their width, the less the more paper is seen between them', () => {
    const doubt = (apart: number): number => pulledAside([stroke({ at: -500 }), stroke({ at: -500 + apart })])[0] ?? 0
    expect(doubt(3.5)).toBeCloseTo(Math.hypot(0.01, 0.08 * 4), 12)
    expect(doubt(4)).toBeCloseTo(Math.hypot(0.01, 0.08 * 4), 12)
    expect(doubt(6.5)).toBeCloseTo(Math.hypot(0.01, 0.04 * 4), 12)
    expect(doubt(9)).toBeCloseTo(0.01, 12)
  })

  // 40 px long: 0.5 px of rows at 0.0125, 1 px at 0.025.
  it.each([[[1, 0], 0.015], [[0, -1], 0.015], [[Math.sqrt(1 - 0.0125 ** 2), 0.0125], 0.0075], [[-0.025, Math.sqrt(1 - 0.025 ** 2)], 0]] as const)('doubts a stroke along %j, which meets the photo’s rows or columns alike all its length, by %f px', (along, doubt) => {
    expect(pulledAside([stroke({ along })])[0]).toBeCloseTo(Math.hypot(0.01, doubt), 12)
  })

  it('keeps the uncertainty of a fit without noise', () => {
    expect(pulledAside([stroke({ noise: 0, uOffset: 0.3 }), stroke({}), stroke({})])[0]).toBe(0.3)
  })
})
