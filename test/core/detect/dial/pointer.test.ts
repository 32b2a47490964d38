import { findPointer } from '#core/detect/dial/pointer'
import { sideStep } from '#core/detect/stroke/around-stroke'
import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { photoPlane } from '#core/detect/plane-map'
import { describe, expect, it } from 'vitest'
import { drawRaster, radial } from '../draw-raster.ts'

const CENTRE = [160.4, 120.7] as const
const marks = Array.from({ length: 24 }, (_, i) => radial(CENTRE, 15 * i, [80, 100]))
const find = (strokes: Parameters<typeof drawRaster>[1]) => findPointer(drawRaster([320, 240], strokes, { noise: 4, seed: 3 }), photoPlane, { centre: CENTRE, inner: 80, least: 5 })

describe('what lies over the paper from the shaft to the marks', () => {
  it('is found at its bearing (simulated)', () => {
    const pointer = find([...marks, radial(CENTRE, 127, [5, 88], 12, 70)])
    expect(((pointer?.bearing ?? 0) * 180) / Math.PI).toBeCloseTo(127, 0)
  })

  it('is not seen where there are only marks, a line across and a thin one along', () => {
    expect(find(marks)).toBeNull()
    expect(find([...marks, radial(CENTRE, 40, [10, 78], 1.5, 60), { from: [60, 60], to: [260, 66], width: 2, dark: 90 }])).toBeNull()
  })

  it('its end among the marks is none of them', () => {
    const answer = detect(drawRaster([320, 240], [...marks.map((m) => ({ ...m, width: 2.2 })), radial(CENTRE, 127, [5, 97], 5, 90)], { noise: 2, seed: 3 }), {}, { sheet: null })
    expect(isUnmeasurable(answer) ? 0 : answer.marks.length).toBe(marks.length)
  })

  it('a mark that goes on beyond its end is one', () => {
    const answer = detect(drawRaster([320, 240], [...marks.map((m) => ({ ...m, width: 2.2 })), radial(CENTRE, 127, [5, 88], 5, 90), radial(CENTRE, 127, [80, 104], 2.2, 120)], { noise: 2, seed: 3 }), {}, { sheet: null })
    expect(isUnmeasurable(answer) ? 0 : answer.marks.length).toBe(marks.length + 1)
  })

  it('a mark that begins at its broad, dark end is one, at its own bearing', () => {
    const ring = Array.from({ length: 23 }, (_, i) => radial(CENTRE, 15 * i + 15, [80, 100], 2, 60))
    const answer = detect(drawRaster([320, 240], [...ring, radial(CENTRE, 359.5, [5, 82], 11, 110), radial(CENTRE, 0.3, [83, 100], 2, 60)], { noise: 2, seed: 3 }), {}, { sheet: null })
    const sure = isUnmeasurable(answer) ? [] : answer.marks.filter((m) => m.confidence >= 0.5)
    expect(sure).toHaveLength(24)
    // A third of the stroke is left out: 0.2° is 0.3 px.
    expect(Math.min(...sure.map((m) => Math.abs((((m.angleDeg ?? 180) + 180) % 360) - 180.3)))).toBeLessThan(0.2)
  })

  it('tells an edge from a stroke by the paper on its two sides', () => {
    const stroke = { middle: [50.2, 50.4] as const, along: [1, 0] as const, halfLength: 20, bow: [0, 0, 0] as const, halfWidth: 1.5, sigma: 1, amplitudes: [80, 80] }
    expect(Math.abs(sideStep(drawRaster([100, 100], [{ from: [30, 50.4], to: [70, 50.4], width: 3, dark: 80 }]), stroke))).toBeLessThan(0.05)
    expect(Math.abs(sideStep(drawRaster([100, 100], [{ from: [10, 70.4], to: [90, 70.4], width: 40, dark: 80 }]), stroke))).toBeGreaterThan(0.9)
  })
})
