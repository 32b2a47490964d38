import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { drawRaster, normal, radial, seededRandom } from './draw-raster.ts'

describe('two sheets of paper in the picture', () => {
  it('reads the greyer one when the brighter one bears nothing', () => {
    const inside = (x: number, y: number, [left, top, right, bottom]: readonly [number, number, number, number]): boolean => x >= left && x < right && y >= top && y < bottom
    // 200 × 283 of one unit and 170 × 240 of another: both in the shape of A4 (simulated).
    const ground = (x: number, y: number): number => (inside(x, y, [30, 60, 330, 484]) ? 150 : inside(x, y, [400, 40, 770, 563]) ? 228 : 45)
    const random = seededRandom(6)
    const marks = Array.from({ length: 24 }, (_, i) => radial([180.4, 260.7], 15 * i + 0.4 * normal(random), [96, 118 + 4 * random()], 2.2, 90))
    const found = detect(drawRaster([800, 600], marks, { ground, noise: 2, seed: 2 }), {})
    if (isUnmeasurable(found)) throw new Error(found.what)
    expect(found.marks.length).toBe(marks.length)
    expect(found.rectifiedBy).toBe('paper')
  })
})
