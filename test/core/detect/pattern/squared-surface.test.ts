import { describe, expect, it } from 'vitest'
import type { DrawnStroke } from '../draw-raster.ts'
import { evenly, marks, rulesAt, scatter, seen } from '../tilted-marks.ts'

// All pictures here are simulated.

/** Faint rules `across` apart one way and `down` the other, turned by 12° against the camera's lean. */
const rules = (across: number, down: number): DrawnStroke[] => [...rulesAt(evenly(across), 0.21 + Math.PI / 2), ...rulesAt(evenly(down), 0.21)]

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
    expect(seen([...marks, ...rules(20, 27)]).rectifiedBy).not.toBe('squares')
  })
})
