import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'

/** Paper on a darker wall, a shadow with an edge 16 px wide over its right part and the wall. */
const shaded = (x: number, y: number): number => (x > 80 && x < 1120 && y > 150 && y < 330 ? 215 : 130) * (1 - 0.42 * Math.min(1, Math.max(0, (x - 692) / 16)))

const marks = Array.from({ length: 30 }, (_, n): DrawnStroke => {
  const x = 120 + 32 * n + 5 * Math.sin(2 * n)
  return { from: [x, 215], to: [x + 2, 265], width: 3, dark: 60 }
})

describe('a strip half of which lies in a shadow (simulated)', () => {
  it('does not end at the shadow’s edge', () => {
    const seen = detect(drawRaster([1200, 480], marks, { ground: shaded, noise: 2 }), { rig: 'mirror' }, { sheet: null })
    expect(isUnmeasurable(seen) ? seen.what : seen.marks.length).toBe(30)
  })
})
