import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import { photoPlane, planeMap } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import type { Ruler } from '#core/detect/strip/ruler'
import { rulerSurface } from '#core/detect/strip/ruler-surface'
import type { Surface } from '#core/detect/surface'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { drawRaster, radial } from './draw-raster.ts'

describe('paper of the shape of A4 that is half as large (A5, ISO 216: 148 × 210 mm; simulated)', () => {
  const perMm = 4.6
  const onSheet = (x: number, y: number): boolean => x > 60 && x < 60 + 148 * perMm && y > 50 && y < 50 + 210 * perMm
  const drawn = Array.from({ length: 48 }, (_, i) => 7.5 * i + (i % 3))
  const strokes = drawn.map((bearing) => radial([60 + 74 * perMm, 50 + 105 * perMm], bearing, [200, 250]))
  const raster: Raster = drawRaster([800, 1066], strokes, { noise: 2, ground: (x, y) => (onSheet(x, y) ? 215 : 60) })
  const found = (hints: Hints): Detection => {
    const seen = detect(raster, hints, { sheet: null })
    if (isUnmeasurable(seen)) throw new Error(seen.what)
    return seen
  }

  it('gives a dial no millimetres until its size is said; a full turn of marks tells angles that A4, 0.3 % shorter for its width, would bend by 0.09°', () => {
    const [open, said] = [found({}), found({ paperMm: [148, 210] })]
    expect(open.rectifiedBy).toBe('turn')
    expect(said.rectifiedBy).toBe('paper')
    // Fitted to some 0.01°, whichever way the sheet was taken to be turned; A4's shape would leave 0.09°.
    const off = open.marks.map(({ angleDeg }) => Math.min(...drawn.map((d) => Math.abs(((angleDeg ?? Number.NaN) - d + 540) % 360 - 180))))
    expect(Math.max(...off)).toBeLessThan(0.045)
    expect(open.pixelsPerMm).toBeNull()
    expect(said.pixelsPerMm).toBeCloseTo(perMm, 1)
    expect(open.marks).toHaveLength(48)
  })
})

describe('a ruler beside the marks, on paper taken for a sheet 1.41 times as large', () => {
  const surface: Surface = { by: 'paper', map: planeMap([0.141, 0, 0, 0, 0.141, 0, 0, 0, 1]), outline: null, metric: true, alternatives: [], loose: false, sheet: null, ringMm: null, doubts: [] }
  const ticks = Array.from({ length: 30 }, (_, index) => ({ index, foot: [10 * index, 0] as const, tip: [10 * index, 9] as const, stepPx: 10 }))
  const no = (): boolean => false
  const ruler: Ruler = { map: photoPlane, alternatives: [], off: 0, rmsPx: 0.1, ticks, measured: ticks, lengths: { period: 10, tickMm: 1, words: 'millimetres' }, spread: 0.01, scatter: 0.01, owns: no, inLine: no, isBeyond: no, isBeside: no }
  const doubts = (hints: Hints): readonly string[] => rulerSurface({ width: 400, height: 300, grey: new Uint8Array(0) }, surface, ruler, hints).doubts

  it('holds a tick against the paper only as far as its size is known', () => {
    expect(doubts({})).toEqual([expect.stringContaining('were the paper the sheet its shape was taken for, one would be 1.41 mm')])
    expect(doubts({ paperMm: [210, 297] })).toEqual([expect.stringContaining('measured on the paper, one is 1.41 mm')])
    expect(doubts({ tickMm: 1 })).toEqual([])
    expect(doubts({ tickMm: 1, paperMm: [210, 297] })).toHaveLength(1)
  })
})
