import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { applyHomography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { expect } from 'vitest'
import { type DrawnStroke, drawRaster } from './draw-raster.ts'
import { onPhoto, tiltedPlane } from './tilted-camera.ts'

// Simulated: 31 marks over a third of a turn, seen by a pinhole camera tilted by 18°, no edge of the paper in view.
const SIZE = [1000, 760] as const
export const plane = tiltedPlane({ focal: 850, axis: [499.5, 379.5], tiltDeg: 18, leanDeg: 33, place: [512.3, 391.7], scale: 1 })
const BEARINGS = Array.from({ length: 31 }, (_, k) => 65 + 4 * k)
export const marks = BEARINGS.map((b, k): DrawnStroke => ({ from: onPhoto(plane, 240, b), to: onPhoto(plane, 275 + 6 * (k % 3), b), width: 3, dark: 120 }))

/** Faint rules on the tilted plane, at these distances from its origin and as long as the paper is wide, running at this bearing (rad) against the camera's lean. */
export const rulesAt = (distances: readonly number[], turn: number): DrawnStroke[] => {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const at = (x: number, y: number) => applyHomography(plane, [cos * x - sin * y, sin * x + cos * y])
  return distances.map((y) => ({ from: at(-400, y), to: at(400, y), width: 1.2, dark: 16 }))
}

/** Places that far apart about 0, over 800 plane units. */
export const evenly = (pitch: number): number[] => Array.from({ length: Math.floor(800 / pitch) }, (_, i) => (i - Math.floor(400 / pitch)) * pitch)

/** What is detected in a picture of these strokes. */
export const seen = (strokes: readonly DrawnStroke[]): Detection => {
  const detection = detect(drawRaster(SIZE, strokes, { noise: 2 }), {}, { sheet: null })
  if (isUnmeasurable(detection)) throw new Error(detection.what)
  return detection
}

/** rms of the marks' angle errors after their common offset, deg; every mark must be there. */
export const scatter = ({ marks: found }: Detection): number => {
  expect(found).toHaveLength(BEARINGS.length)
  const off = found.map((m, i) => (((m.angleDeg as number) - (BEARINGS[i] as number) + 540) % 360) - 180)
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.sqrt(off.reduce((s, v) => s + (v - mean) ** 2, 0) / off.length)
}
