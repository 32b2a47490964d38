import { applyHomography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'
import type { DrawnStroke } from '../draw-raster.ts'
import { marks, plane, scatter, seen } from '../tilted-marks.ts'

// All pictures here are simulated.

/** Faint rules `across` apart one way and `down` the other, turned by 12° against the camera's lean. */
const rules = (across: number, down: number): DrawnStroke[] => {
  const [cos, sin] = [Math.cos(0.21), Math.sin(0.21)]
  const at = (x: number, y: number) => applyHomography(plane, [cos * x - sin * y, sin * x + cos * y])
  const family = (pitch: number, line: (v: number) => DrawnStroke): DrawnStroke[] => Array.from({ length: Math.floor(800 / pitch) }, (_, i) => line((i - Math.floor(400 / pitch)) * pitch))
  const look = { width: 1.2, dark: 16 }
  return [...family(across, (x) => ({ from: at(x, -400), to: at(x, 400), ...look })), ...family(down, (y) => ({ from: at(-400, y), to: at(400, y), ...look }))]
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
