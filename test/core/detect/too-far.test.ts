import { detect } from '#core/detect/detect'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { drawRaster, radial } from './draw-raster.ts'

// Simulated: strokes of unequal place and length that aim at one point, as grain seen aslant does.
const SIZE = [900, 700] as const
const about = (centre: Point, [from, to]: readonly [number, number], count: number, inner: number) =>
  drawRaster(SIZE, Array.from({ length: count }, (_, i) => radial(centre, from + ((to - from) * i) / (count - 1), [inner + 60 * ((i * 7) % 5), inner + 60 * ((i * 7) % 5) + 90], 3, 110)), { noise: 2 })

describe('strokes that aim at a place far outside the picture', () => {
  it('are no marks, and the cure is named', () => {
    const seen = detect(about([-3900, 350], [-4, 4], 30, 4100), { rig: 'pointer' }, { sheet: null })
    expect(isUnmeasurable(seen) && seen.what).toContain('outside')
    expect(isUnmeasurable(seen) && seen.remedy).toContain('--centre')
  })

  it('are marks where a person says that the shaft is there', () => {
    const seen = detect(about([-3900, 350], [-4, 4], 30, 4100), { rig: 'pointer', centrePx: [-3900, 350] }, { sheet: null })
    expect(isUnmeasurable(seen)).toBe(false)
  })

  it('are marks where the shaft is half a picture away, as in a close-up of an arc', () => {
    const seen = detect(about([-450, 350], [-20, 20], 24, 620), { rig: 'pointer' }, { sheet: null })
    if (isUnmeasurable(seen)) throw new Error(seen.what)
    expect(seen.marks).toHaveLength(24)
  })
})
