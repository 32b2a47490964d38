import { describe, expect, it } from 'vitest'
import { inkCentroid, markBearing } from '#core/detect/dial/mark-bearing'
import { photoPlane, planeMap, toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { strokeBetween } from '#core/detect/stroke/stroke-model'

/** Ink of one darkness all along. */
const even = (from: Point, to: Point) => ({ model: strokeBetween(from, to, { halfWidth: 2, sigma: 1, amplitudes: [90, 90, 90] }), paper: 200 })

describe('middle of a stroke’s ink', () => {
  it('closed form: half-way along even ink in the plane of the photo, two thirds along ink that takes away light in proportion to the way', () => {
    const [x, y] = inkCentroid(even([10, 20], [70, 20]), photoPlane)
    expect(x).toBeCloseTo(40, 9)
    expect(y).toBeCloseTo(20, 9)
    const model = strokeBetween([0, 0], [60, 0], { halfWidth: 2, sigma: 1, amplitudes: [0, 2e-4] })
    // So pale that darkness is proportional to light; 15 pieces leave 1/(6·15²) of the length.
    expect(inkCentroid({ model, paper: 200 }, photoPlane)[0]).toBeCloseTo(40, 0)
  })

  // A pen draws as much ink to the millimetre far from the camera as near to it.
  it('is half-way along the stroke on the paper, however the camera slants', () => {
    const slanting = planeMap([1, 0.02, 3, -0.01, 1.1, 5, 6e-4, 4e-4, 1])
    const [from, to] = [[20, 40], [220, 130]] as const satisfies readonly Point[]
    const [x, y] = inkCentroid(even(toPhoto(slanting, from), toPhoto(slanting, to)), slanting)
    // Fifteen straight pieces: less than a thousandth of the length off.
    expect(Math.hypot(x - 120, y - 85)).toBeLessThan(0.001 * Math.hypot(200, 90))
  })
})

describe('bearing of a mark', () => {
  it('closed form: sideways doubt over the radius, and for a stroke that leans the doubt along it times the lean', () => {
    const radial = markBearing(even([60, 0], [100, 0]), photoPlane, [0, 0], { asidePx: 0.1, along: 0.005 })
    expect(radial.uDeg).toBeCloseTo(((0.1 / 80) * 180) / Math.PI, 9)
    // From (60, −3) to (100, 3): the middle may lie 0.005 of that farther out or in, which turns its bearing by 0.005 · 6 / 80.
    const leaning = markBearing(even([60, -3], [100, 3]), photoPlane, [0, 0], { asidePx: 0, along: 0.005 })
    expect(leaning.angleDeg).toBeCloseTo(0, 9)
    expect(leaning.uDeg).toBeCloseTo(((0.005 * 6) / 80) * (180 / Math.PI), 9)
  })
})
