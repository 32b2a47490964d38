import { describe, expect, it } from 'vitest'
import { companyOf } from '#core/detect/among-others'
import { detect } from '#core/detect/detect'
import type { Hints } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { noTraceOnSheet, tooFaint } from '#core/detect/no-trace'
import { isUnmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster, radial, seededRandom } from './draw-raster.ts'

const answerTo = (strokes: readonly DrawnStroke[], hints: Hints = {}) => detect(drawRaster([1000, 750], strokes, { noise: 2 }), hints, { sheet: null })
const said = (answer: ReturnType<typeof detect>): string => (isUnmeasurable(answer) ? answer.what : answer.doubts.join('; '))

/** Strokes of one length in any place and direction. */
const straw = (count: number): DrawnStroke[] => {
  const random = seededRandom(4)
  return Array.from({ length: count }, () => {
    const [x, y, turn] = [60 + 880 * random(), 60 + 630 * random(), Math.PI * random()]
    return { from: [x, y] as Point, to: [x + 45 * Math.cos(turn), y + 45 * Math.sin(turn)] as Point, width: 3, dark: 120 }
  })
}
const ring = Array.from({ length: 48 }, (_, n) => radial([500, 375], 7.5 * n, [200, 245]))

describe('pictures that are no trace', () => {
  it('counts the lines like the marks and those the marks cover', () => {
    const line = (x: number, lengthPx = 40) => ({ middle: [x, 0] as Point, along: [0, 1] as Point, lengthPx, widthPx: 3, depth: 0.5 })
    const mark = (x: number) => ({ p0: [x, -20] as Point, p1: [x, 20] as Point, widthPx: 3 })
    expect(companyOf([line(0), line(50), line(100), line(150), line(200, 200)], [mark(0), mark(50)])).toEqual({ like: 4, taken: 2 })
    expect(companyOf([line(0)], [mark(70)])).toBeNull()
  })

  it('takes for the marks what most of their ink is, though rules that cross them leave more bits than strokes', () => {
    const line = (x: number, y: number, lengthPx: number) => ({ middle: [x, y] as Point, along: [0, 1] as Point, lengthPx, widthPx: 3, depth: 0.5 })
    const marks = [0, 50, 100].map((x) => ({ p0: [x, -100] as Point, p1: [x, 100] as Point, widthPx: 3 }))
    const strokes = marks.map((_, i) => line(50 * i, 0, 200))
    const bits = marks.flatMap((_, i) => [-60, -30, 30, 60].map((y) => line(50 * i, y, 6)))
    const elsewhere = Array.from({ length: 30 }, (_, i) => line(25, 10 * i, 8))
    expect(companyOf([...strokes, ...bits, ...elsewhere], marks)).toEqual({ like: 3, taken: 3 })
    // A mark that was seen in part is a mark all the same.
    expect(companyOf([...strokes.slice(1), line(0, 40, 60), ...elsewhere], marks)).toEqual({ like: 3, taken: 3 })
    const rules = [-80, 0, 80].map((y) => ({ ...line(50, y, 900), along: [1, 0] as Point }))
    expect(companyOf([...strokes, ...rules], marks)).toEqual({ like: 3, taken: 3 })
  })

  it('refuses a pattern picked from many strokes of the same kind', () => {
    const answer = answerTo(straw(220))
    expect(isUnmeasurable(answer)).toBe(true)
  })

  it('reads and doubts it where a person says that the marks are there', () => {
    const answer = answerTo([...straw(260), ...ring], { centrePx: [500, 375], radiusRangePx: [195, 250] })
    expect(isUnmeasurable(answer)).toBe(false)
    expect(said(answer)).toContain('look like the marks')
  })

  it('does not doubt a trace with some writing beside it', () => {
    expect(said(answerTo([...ring, ...straw(30)]))).not.toContain('look like the marks')
  })

  it('refuses marks hardly darker than the paper, which grain makes anywhere', () => {
    const stroke = (amplitude: number, noise = 2) => ({ fit: { model: { middle: [0, 0] as Point, along: [0, 1] as Point, halfLength: 20, bow: [0, 0, 0] as const, halfWidth: 1.5, sigma: 1, amplitudes: [amplitude, amplitude] }, noise, uOffset: 0.1, outliers: 0, clumping: 1, paper: 200 } })
    expect(tooFaint([stroke(3), stroke(3), stroke(40)])?.what).toContain('1.5 % darker')
    expect(tooFaint([stroke(20), stroke(20), stroke(3)])).toBeNull()
    expect(tooFaint([stroke(6), stroke(6), stroke(6)])?.what).toContain('3.0 % darker')
    // As faint on paper without grain.
    expect(tooFaint([stroke(6, 1.2), stroke(6, 1.2), stroke(6, 1.2)])).toBeNull()
  })

  it('says that a printed sheet was recognised where nothing is marked on it', () => {
    const answer = noTraceOnSheet(unmeasurable('no marks', 'photo', 'take another'))
    expect(answer.what).toBe('the printed sheet was recognised, but no trace on it: no marks')
  })

  it('refuses a row that in the end has fewer marks than a row is chosen for, as grains of a stone have, unless a person says that it is one', () => {
    const random = seededRandom(3)
    const grains = Array.from({ length: 10 }, (_, i): DrawnStroke => {
      const [x, y] = [60 + 60 * i + 10 * random(), 300 + 170 * (random() - 0.5)]
      return { from: [x, y], to: [x + 2, y], width: i < 3 ? 9 : 34 * (0.8 + 0.4 * random()), dark: 120 }
    })
    expect(said(answerTo(grains))).toContain('neither strokes that aim at one point nor a row')
    expect(isUnmeasurable(answerTo(grains, { rig: 'mirror' }))).toBe(false)
  })
})
