import { describe, expect, it } from 'vitest'
import { seededRandom } from '../draw-raster.ts'
import { onPhoto } from '../tilted-camera.ts'
import { evenly, marks, plane, rulesAt, scatter, seen } from '../tilted-marks.ts'

// All pictures here are simulated.

const bare = scatter(seen(marks))

describe('perspective from ruled paper', () => {
  it('is taken out by faint rules whichever way they run, to what is said to be left; no rule is taken for a mark', () => {
    for (const turn of [0.21, 2.4]) {
      const detection = seen([...marks, ...rulesAt(evenly(24), turn)])
      expect(detection.rectifiedBy).toBe('rules')
      expect(scatter(detection)).toBeLessThan(2 * Math.hypot(detection.rectificationUDeg ?? 0, detection.centreUDeg ?? 0))
      // The camera of these pictures has the usual focal length, which the tool does not know.
      expect(scatter(detection)).toBeLessThan(bare / 4)
      expect(detection.rectificationUDeg).toBeGreaterThan(bare / 4)
      expect(detection.doubts.join()).toContain('rules')
    }
  })

  it('is not taken from lines that are not evenly spaced: each gap by chance 0.5 to 1.5 times the usual, or narrower and wider in waves', () => {
    const byChance = [1, 2].map((seed) => {
      const random = seededRandom(seed)
      let place = -400
      return evenly(24).map(() => (place += 24 * (0.5 + random())))
    })
    for (const distances of [...byChance, evenly(24).map((y) => y + 12 * Math.sin(y / 40))]) expect(seen([...marks, ...rulesAt(distances, 0.21)]).rectifiedBy).toBe('none')
  })

  it('is not taken from a fan of lines about the shaft, nor from a few lines at one side', () => {
    const fan = Array.from({ length: 90 }, (_, i) => ({ from: onPhoto(plane, 20, 4 * i + 2), to: onPhoto(plane, 300, 4 * i + 2), width: 1.2, dark: 16 }))
    for (const lines of [fan, rulesAt(evenly(24).filter((y) => y > 130), 0.21)]) expect(seen([...marks, ...lines]).rectifiedBy).toBe('none')
  })
})
