import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'
import { onPhoto, tiltedPlane } from '../tilted-camera.ts'

// All pictures here are simulated: 31 marks over a third of a turn, seen by a pinhole camera tilted by 18°, no edge of the paper in view.
const SIZE = [1000, 760] as const
const plane = tiltedPlane({ focal: 850, axis: [499.5, 379.5], tiltDeg: 18, leanDeg: 33, place: [512.3, 391.7], scale: 1 })
const BEARINGS = Array.from({ length: 31 }, (_, k) => 65 + 4 * k)
const marks = BEARINGS.map((b, k): DrawnStroke => ({ from: onPhoto(plane, 240, b), to: onPhoto(plane, 275 + 6 * (k % 3), b), width: 3, dark: 120 }))

const circle = (radius: number, [from, to]: readonly [number, number], centre: Point = [0, 0]): DrawnStroke[] =>
  Array.from({ length: Math.round((to - from) / 2) }, (_, i): DrawnStroke => ({ from: onPhoto(plane, radius, from + 2 * i, centre), to: onPhoto(plane, radius, from + 2 * i + 2, centre), width: 2, dark: 70 }))

const seen = (strokes: readonly DrawnStroke[]): Detection => {
  const detection = detect(drawRaster(SIZE, strokes, { noise: 2 }), {}, { sheet: null })
  if (isUnmeasurable(detection)) throw new Error(detection.what)
  return detection
}

/** rms of angle errors after their common offset, deg. */
const scatter = ({ marks: found }: Detection): number => {
  expect(found).toHaveLength(BEARINGS.length)
  const off = found.map((m, i) => (((m.angleDeg as number) - (BEARINGS[i] as number) + 540) % 360) - 180)
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.sqrt(off.reduce((s, v) => s + (v - mean) ** 2, 0) / off.length)
}

describe('perspective from a circle about the shaft', () => {
  const bare = seen(marks)

  it('is left in where there is none: tens of times the marks’ own uncertainty', () => {
    expect(bare.rectifiedBy).toBe('none')
    expect(scatter(bare)).toBeGreaterThan(0.2)
  })

  it('is taken out by a whole circle inside the marks, to what the centre leaves; no piece of the circle is taken for a mark', () => {
    const detection = seen([...marks, ...circle(225, [0, 360])])
    expect(detection.rectifiedBy).toBe('circle')
    expect(detection.rectificationUDeg).toBeLessThan(0.05)
    expect(scatter(detection)).toBeLessThan(3 * Math.hypot(detection.rectificationUDeg ?? 0, detection.centreUDeg ?? 0))
    expect(scatter(detection)).toBeLessThan(scatter(bare) / 4)
  })

  it('is taken out by a circle that runs through the marks, and by two thirds of one', () => {
    for (const strokes of [circle(258, [0, 360]), circle(225, [100, 340])]) {
      const detection = seen([...marks, ...strokes])
      expect(detection.rectifiedBy).toBe('circle')
      expect(scatter(detection)).toBeLessThan(scatter(bare) / 4)
    }
  })

  it('is not taken from a circle about another point, nor from a short arc', () => {
    for (const strokes of [circle(200, [0, 360], [28, 20]), circle(225, [80, 150])]) expect(seen([...marks, ...strokes]).rectifiedBy).toBe('none')
  })
})
