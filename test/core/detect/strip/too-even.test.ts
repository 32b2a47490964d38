import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, normal, seededRandom } from '../draw-raster.ts'

/** Thirty strokes 20 px apart, their places off by `off` px (one standard deviation); simulated. */
const row = (off: number): readonly DrawnStroke[] => {
  const random = seededRandom(5)
  return Array.from({ length: 30 }, (_, i): DrawnStroke => {
    const x = 60 + 20 * i + off * normal(random)
    return { from: [x, 80 + 6 * random()], to: [x, 130 + 6 * random()], width: 3, dark: 120 }
  })
}

const seen = (off: number) => detect(drawRaster([720, 220], row(off), { noise: 2 }), {}, { sheet: null })

describe('a row of strokes as even as print', () => {
  it('is read with the doubt, first of all, that it is a ruler or a comb', () => {
    const found = seen(0.1)
    if (isUnmeasurable(found)) throw new Error(found.what)
    expect(found.marks).toHaveLength(30)
    expect(found.doubts[0]).toContain('a ruler or a comb')
  })

  it('is a trace where its steps differ by 4 %, as a good motor’s do', () => {
    const found = seen(0.8)
    if (isUnmeasurable(found)) throw new Error(found.what)
    expect(found.marks).toHaveLength(30)
    expect(found.doubts.join()).not.toContain('comb')
  })
})
