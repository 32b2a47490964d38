import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { ratherOnSmooth, smoothPapers } from '#core/detect/paper/smooth-paper'
import type { Point } from '#core/detect/raster'
import { depthInside } from '#core/detect/usable'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
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

  it('is read again alone where what is doubtful lies beside it and the rest on it', () => {
    const raster = drawRaster([1000, 750], [...trace, ...desk(500)], { ground, noise: 2 })
    const onPaper = detect(raster, {}, { sheet: null })
    if (isUnmeasurable(onPaper)) throw new Error(onPaper.what)
    const [mark] = onPaper.marks
    const beside = [600, 640, 680].map((y) => ({ ...mark, p0: [60, y], p1: [100, y], confidence: 0.2 })) as unknown as Detection['marks']
    const again = (seen: Detection): Detection | Unmeasurable => ratherOnSmooth(seen, { raster, lines: [] }, () => onPaper)
    expect(again({ ...onPaper, marks: [...onPaper.marks, ...beside] })).toMatchObject({ marks: onPaper.marks, doubts: [expect.stringContaining('pattern of its own'), ...onPaper.doubts] })
    for (const marks of [onPaper.marks, [...onPaper.marks, ...beside.slice(1)], [...onPaper.marks, ...beside.map((m) => ({ ...m, confidence: 0.9 }))]]) {
      const seen = { ...onPaper, marks }
      expect(again(seen)).toBe(seen)
    }
  })

  it('makes no trace where it bears none', () => {
    expect(isUnmeasurable(read(desk(1600)))).toBe(true)
  })

  it('is seen whole where it is round and finely squared: rough, too, but brighter all over', () => {
    const isDisc = ([x, y]: Point): boolean => Math.hypot(x - 500, y - 375) < 330
    // Ruled finely where the marks are.
    const squares = (x: number, y: number): number => 215 - (Math.hypot(x - 500, y - 375) > 215 && (x % 6 < 2 || y % 6 < 2) ? 22 : 0)
    // The cloth is as rough, and half as bright; dark threads come up in rows, one as the other.
    const cloth = Array.from({ length: 45 * 25 }, (_, i): DrawnStroke => {
      const [x, y] = [10 + 22 * (i % 45), 10 + 30 * Math.floor(i / 45)]
      return { from: [x, y], to: [x + 3, y + 22], width: 3, dark: 60 }
    }).filter(({ from, to }) => !isDisc(from) && !isDisc(to))
    const ring = Array.from({ length: 40 }, (_, n) => radial([500, 375], 9 * n + 2, [240, 290], 3, 90))
    const photo = drawRaster([1000, 750], [...ring, ...cloth], { ground: (x, y) => (isDisc([x, y]) ? 1 : 0.5) * squares(x, y), noise: 2 })
    const rim = Array.from({ length: 16 }, (_, n): Point => [500 + 318 * Math.cos((n * Math.PI) / 8), 375 + 318 * Math.sin((n * Math.PI) / 8)])
    const isWhole = (outline: readonly Point[]): boolean => rim.every((place) => depthInside(outline, place) > 0) && depthInside(outline, [60, 60]) < 0
    expect(smoothPapers(photo).some(isWhole)).toBe(true)
  })
})
