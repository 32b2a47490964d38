import { centreEnds, type StrokeEnds } from '#core/detect/centre/centre-ends'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

const DEG = Math.PI / 180

/** Strokes that start on a circle of 80 about (x, y), described about the origin; `uneven` is the scatter of their starts (simulated). */
const starts = (count: number, spanDeg: number, { x = 0, y = 0, uneven = 0, seed = 1 }: { readonly x?: number; readonly y?: number; readonly uneven?: number; readonly seed?: number }): StrokeEnds[] => {
  const random = seededRandom(seed)
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  return Array.from({ length: count }, (_, i) => {
    const a = (-spanDeg / 2 + (spanDeg * i) / (count - 1)) * DEG
    const r = 80 + uneven * normal()
    const [px, py] = [x + r * Math.cos(a), y + r * Math.sin(a)]
    const inner = Math.hypot(px, py)
    return { bearing: [px / inner, py / inner], inner, outer: inner + 8 + 4 * normal() }
  })
}

describe('the centre of the circle that strokes start on', () => {
  it('is found from an arc when they start evenly', () => {
    const found = centreEnds(starts(20, 100, { x: 1.5, y: -0.8 }), [0, 0])
    expect(found?.centre[0]).toBeCloseTo(1.5, 4)
    expect(found?.centre[1]).toBeCloseTo(-0.8, 4)
  })

  it.each([[90], [150]])('has a covariance that is not too small, and not needlessly large, over %i°', (span) => {
    const squares = Array.from({ length: 150 }, (_, seed) => {
      const found = centreEnds(starts(40, span, { uneven: 0.3, seed: seed + 1 }), [0, 0])
      if (found === null) return Number.NaN
      const [xx, xy, yy] = found.covariance
      const [x, y] = found.centre
      return (yy * x * x - 2 * xy * x * y + xx * y * y) / (xx * yy - xy * xy) / 2
    })
    const spread = Math.sqrt(squares.reduce((sum, v) => sum + v, 0) / squares.length)
    expect(spread).toBeGreaterThan(0.6)
    expect(spread).toBeLessThan(1.1)
  })

  it('is trusted less where starts in a row err alike', () => {
    const drifting = starts(40, 90, {}).map((s, i) => ({ ...s, inner: s.inner + 0.4 * Math.sin(i / 3), outer: s.outer + 9 * ((i * 7) % 5) }))
    const jumping = starts(40, 90, {}).map((s, i) => ({ ...s, inner: s.inner + 0.4 * Math.sin(7 * i), outer: s.outer + 9 * ((i * 7) % 5) }))
    const size = (strokes: readonly StrokeEnds[]): number => centreEnds(strokes, [0, 0])?.covariance[0] ?? Number.NaN
    expect(size(drifting)).toBeGreaterThan(2 * size(jumping))
  })

  it('is unknown for fewer than eight strokes', () => {
    expect(centreEnds(starts(7, 90, {}), [0, 0])).toBeNull()
  })
})
