import { fittedMark } from '#core/detect/centre/seen-from-centre'
import { turnOf } from '#core/detect/dial/turn-of'
import { photoPlane, planeMap } from '#core/detect/plane-map'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import type { Surface } from '#core/detect/surface'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

/** A paper that leans on what lens is usual, and leaves no doubt of its own. */
const paper: Surface = { by: 'paper', map: photoPlane, outline: null, metric: false, alternatives: [], loose: true, sheet: null, ringMm: null, doubts: [] }

/** 96 strokes about (500, 400), placed to so many px, on a plane whose second axis the paper's map takes for so much too short (simulated). */
const marksOn = (squeeze: number, scatterPx = 0.1) => {
  const random = seededRandom(3)
  return Array.from({ length: 96 }, (_, k) => {
    const a = (2 * Math.PI * k) / 96 + (2 * scatterPx * (random() - 0.5)) / 300
    const at = (r: number) => [500 + r * Math.cos(a), 400 - squeeze * r * Math.sin(a)] as const
    const model = strokeBetween(at(270), at(330), { halfWidth: 1.5, sigma: 1, amplitudes: [100, 100] })
    return fittedMark({ model, noise: 2, uOffset: 0.02, outliers: 0, clumping: 1, paper: 200 }, photoPlane, [500, 400])
  })
}

const stretchSeen = (squeeze: number, on = paper): number => Math.hypot(...(turnOf(marksOn(squeeze), photoPlane, [500, 400], on)?.stretch ?? [9, 9]))

describe('the stretch of a full turn of marks', () => {
  it('is believed against a paper that it contradicts beyond doubt, though the paper says it is the surer', () => {
    expect(stretchSeen(0.99)).toBeCloseTo(0.01 / 1.99, 4)
  })

  it('is believed against a paper whose size was guessed, as an A5 sheet taken for A4 shows, and not against one whose size was said', () => {
    const squeeze = (148 / 210) * (297 / 210)
    expect(stretchSeen(squeeze, { ...paper, loose: false, guessed: true })).toBeCloseTo((1 - squeeze) / (1 + squeeze), 4)
    expect(stretchSeen(squeeze, { ...paper, loose: false })).toBe(0)
    expect(stretchSeen(1, { ...paper, loose: false, guessed: true })).toBe(0)
  })

  // Two estimates of one quantity, one of them none: the share d²/(d² + u²), its variance d²u²/(d² + u²) (weighted mean, by hand). Discrepancies of half a standard
  // uncertainty tell nothing of rare lenses, so the weighted mean is met to some hundredths of u.
  it('is weighed with a paper that is about as sure', () => {
    const marks = marksOn(1.002, 6)
    const free = turnOf(marks, photoPlane, [500, 400], { ...paper, by: 'none' })
    const u = free?.uStretch ?? 0
    const leaning = (by: number): Surface => ({ ...paper, alternatives: [planeMap([1 + by, 0, 0, 0, 1 - by, 0, 0, 0, 1]), planeMap([1, by, 0, by, 1, 0, 0, 0, 1])] })
    const both = turnOf(marks, photoPlane, [500, 400], leaning(u))
    expect(Math.hypot(...(both?.stretch ?? []))).toBeGreaterThan(0.4 * Math.hypot(...(free?.stretch ?? [])))
    expect(Math.hypot(...(both?.stretch ?? []))).toBeLessThan(0.65 * Math.hypot(...(free?.stretch ?? [])))
    expect(both?.uStretch).toBeGreaterThan(0.65 * u)
    expect(both?.uStretch).toBeLessThan(0.85 * u)
  })

  it('is left to the paper where both agree', () => {
    expect(stretchSeen(1)).toBe(0)
  })
})
