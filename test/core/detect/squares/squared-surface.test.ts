import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { applyHomography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'
import { onPhoto, tiltedPlane } from '../tilted-camera.ts'

// All pictures here are simulated: 31 marks over a third of a turn, seen by a pinhole camera tilted by 18°, no edge of the paper in view.
const SIZE = [1000, 760] as const
const plane = tiltedPlane({ focal: 850, axis: [499.5, 379.5], tiltDeg: 18, leanDeg: 33, place: [512.3, 391.7], scale: 1 })
const BEARINGS = Array.from({ length: 31 }, (_, k) => 65 + 4 * k)
const marks = BEARINGS.map((b, k): DrawnStroke => ({ from: onPhoto(plane, 240, b), to: onPhoto(plane, 275 + 6 * (k % 3), b), width: 3, dark: 120 }))

/** Faint rules `across` apart one way and `down` the other, turned by 12° against the camera's lean. */
const rules = (across: number, down: number): DrawnStroke[] => {
  const [cos, sin] = [Math.cos(0.21), Math.sin(0.21)]
  const at = (x: number, y: number) => applyHomography(plane, [cos * x - sin * y, sin * x + cos * y])
  const family = (pitch: number, line: (v: number) => DrawnStroke): DrawnStroke[] => Array.from({ length: Math.floor(800 / pitch) }, (_, i) => line((i - Math.floor(400 / pitch)) * pitch))
  const look = { width: 1.2, dark: 16 }
  return [...family(across, (x) => ({ from: at(x, -400), to: at(x, 400), ...look })), ...family(down, (y) => ({ from: at(-400, y), to: at(400, y), ...look }))]
}

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

describe('perspective from squared paper', () => {
  it('is taken out by faint squares, fine or coarse, to what the centre leaves', () => {
    const bare = scatter(seen(marks))
    for (const pitch of [14, 31]) {
      const detection = seen([...marks, ...rules(pitch, pitch)])
      expect(detection.rectifiedBy).toBe('squares')
      expect(detection.rectificationUDeg).toBeLessThan(0.06)
      expect(scatter(detection)).toBeLessThan(3 * Math.hypot(detection.rectificationUDeg ?? 0, detection.centreUDeg ?? 0))
      expect(scatter(detection)).toBeLessThan(bare / 3)
    }
  })

  it('is not taken from oblongs, whose sides no usual camera makes equal', () => {
    expect(seen([...marks, ...rules(20, 27)]).rectifiedBy).toBe('none')
  })

  it('is not taken from lines that run one way only', () => {
    expect(seen([...marks, ...rules(20, 900)]).rectifiedBy).toBe('none')
  })
})
