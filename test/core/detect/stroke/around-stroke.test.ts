import { goesOn } from '#core/detect/stroke/around-stroke'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'
import { drawRaster, type DrawnStroke } from '../draw-raster.ts'

const DRAWN = { halfWidth: 1.5, sigma: 1, amplitudes: [100, 100] } as const
const piece = strokeBetween([120, 100], [160, 110], DRAWN)

/** How a stroke from (120, 100) to (160, 110) goes on in a picture of some strokes, with noise (simulated). */
const goingOn = (...strokes: readonly DrawnStroke[]): number => goesOn(drawRaster([300, 200], strokes, { noise: 2 }), piece)

describe('how dark a stroke’s line goes on beyond its ends', () => {
  it('is near 1 for a piece of a longer line, whichever way that goes on', () => {
    expect(goingOn({ from: [40, 80], to: [160, 110], width: 3, dark: 100 })).toBeCloseTo(1, 1)
    expect(goingOn({ from: [120, 100], to: [260, 135], width: 3, dark: 100 })).toBeCloseTo(1, 1)
  })

  it('is near 0 for a mark, also where a line crosses its end or one of a second ring follows it', () => {
    const mark = { from: [120, 100], to: [160, 110], width: 3, dark: 100 } as const
    expect(goingOn(mark)).toBeLessThan(0.1)
    expect(goingOn(mark, { from: [160, 60], to: [168, 150], width: 3, dark: 100 }, { from: [180, 115], to: [200, 120], width: 3, dark: 100 })).toBeLessThan(0.1)
  })

  it('is the rule’s darkness over the mark’s for a mark on a rule', () => {
    expect(goingOn({ from: [120, 100], to: [160, 110], width: 3, dark: 80 }, { from: [0, 70], to: [280, 140], width: 3, dark: 20 })).toBeCloseTo(0.2, 1)
  })

  it('is 0 where there is no stroke, and where the photo ends before the line does', () => {
    expect(goesOn(drawRaster([300, 200], []), piece)).toBe(0)
    expect(goesOn(drawRaster([170, 120], [{ from: [110, 97.5], to: [180, 115], width: 3, dark: 100 }]), piece)).toBe(0)
  })
})
