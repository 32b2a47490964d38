import { detect } from '#core/detect/detect'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, radial } from './draw-raster.ts'

/** Eighteen lines of small print, seen as one grey line each, and a trace of sixteen strokes over a third of a turn (simulated). */
const text = Array.from({ length: 18 }, (_, i): DrawnStroke => ({ from: [60 + 7 * (i % 3), 60 + 14 * i], to: [250 + 23 * ((i * 5) % 4), 60 + 14 * i], width: 3, dark: 60 }))
const trace = Array.from({ length: 16 }, (_, i) => radial([420, 380], 200 + 7.5 * i + 0.6 * Math.sin(3 * i), [170, 210], 2.5, 90))

describe('marks on a page with print on it', () => {
  it('are read instead of the lines of text, which are as even as no motor is', () => {
    const seen = detect(drawRaster([800, 640], [...text, ...trace], { noise: 2 }))
    if (isUnmeasurable(seen)) throw new Error(sentenceOf(seen))
    expect([seen.rig, seen.marks.length]).toEqual(['pointer', 16])
    expect(seen.doubts.join('\n')).toContain('even as print')
  })

  it('lines of text alone stay a row, doubted for their evenness', () => {
    const seen = detect(drawRaster([800, 640], text, { noise: 2 }))
    if (isUnmeasurable(seen)) throw new Error(sentenceOf(seen))
    expect(seen.rig).toBe('mirror')
    expect(seen.doubts.join('\n')).toContain('no motor and no hand')
  })
})
