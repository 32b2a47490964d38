import { detect } from '#core/detect/detect'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, radial, seededRandom } from './draw-raster.ts'

/** A sheet that reaches out of the picture at the top, its other sides wavy: no perspective is told from it. */
const isPaper = ([x, y]: Point): boolean => y < 560 + 0.1 * x + 9 * Math.sin(x / 60) && x > 280 + 0.12 * y + 9 * Math.sin(y / 60) && x < 820 - 0.15 * y + 9 * Math.sin(y / 70)

/** A desk of straw, or of stone: strokes of one length in any place and direction, but not over the paper. */
const desk = (count: number): DrawnStroke[] => {
  const random = seededRandom(4)
  return Array.from({ length: count }, () => {
    const [x, y, turn] = [1000 * random(), 750 * random(), Math.PI * random()]
    return { from: [x, y] as Point, to: [x + 25 * Math.cos(turn), y + 25 * Math.sin(turn)] as Point, width: 4, dark: 110 }
  }).filter(({ from, to }) => !isPaper(from) && !isPaper(to))
}

const ground = (x: number, y: number): number => (isPaper([x, y]) ? 215 : 200 + 12 * Math.sin(0.9 * x + 2 * Math.sin(0.7 * y)))
const trace = Array.from({ length: 12 }, (_, n) => radial([520, 480], 60 + 5 * n, [250, 310]))
const read = (strokes: readonly DrawnStroke[]) => detect(drawRaster([1000, 750], strokes, { ground, noise: 2 }), {}, { sheet: null })

describe('paper on a desk with a pattern of its own (simulated)', () => {
  it('is read alone, though nothing is told from its edges, and that is said', () => {
    const seen = read([...trace, ...desk(1600)])
    expect(isUnmeasurable(seen) ? seen.what : seen.marks.length).toBe(12)
    expect(isUnmeasurable(seen) ? '' : seen.doubts[0]).toContain('pattern of its own')
  })

  it('makes no trace where it bears none', () => {
    expect(isUnmeasurable(read(desk(1600)))).toBe(true)
  })
})
