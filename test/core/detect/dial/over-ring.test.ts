import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { drawRaster, radial } from '../draw-raster.ts'

const CENTRE = [160.4, 120.7] as const
const marks = (without: readonly number[] = []): ReturnType<typeof radial>[] => Array.from({ length: 40 }, (_, i) => i).filter((i) => !without.includes(i)).map((i) => radial(CENTRE, 9 * i + (i % 2), [80, 104], 2, 90))
const doubtsOf = (strokes: Parameters<typeof drawRaster>[1]): string => {
  const answer = detect(drawRaster([320, 240], strokes, { noise: 2, seed: 4 }), {}, { sheet: null })
  return isUnmeasurable(answer) ? 'refused' : answer.doubts.join(' | ')
}

describe('what lies across the ring (simulated)', () => {
  it('is told with its bearing where it hides a mark', () => {
    // From beside the mark at 90° to far inside: it does not begin at the shaft, and is no pointer.
    expect(doubtsOf([...marks([10]), { from: [160.4, 60], to: [160.4, 2], width: 9, dark: 110 }])).toContain('something lies across the ring at 90°')
  })

  it('is not told of where there is none, nor of a pale stain that marks show through', () => {
    expect(doubtsOf(marks())).not.toContain('across the ring')
    expect(doubtsOf([{ from: [160.4, 60], to: [160.4, 2], width: 9, dark: 12 }, ...marks()])).not.toContain('across the ring')
  })

  it('is not told of beyond the ends of an arc', () => {
    expect(doubtsOf([...marks(Array.from({ length: 20 }, (_, i) => i)), { from: [160.4, 60], to: [160.4, 2], width: 9, dark: 110 }])).not.toContain('across the ring')
  })
})
