import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { drawRaster, radial } from '../draw-raster.ts'

const CENTRE: Point = [400.3, 380.6]
/** A hub above the paper, seen aslant: displaced by a fiftieth of the marks' radius. */
const HUB: Point = [405.3, 384.6]
const HUB_PX = 22

/** A pale round hub on a dark pointer that lies over bare paper. */
const ground = (x: number, y: number): number => {
  if (Math.hypot(x - HUB[0], y - HUB[1]) < HUB_PX) return 150
  return Math.abs(y - HUB[1]) < 34 && Math.abs(x - HUB[0]) < 150 ? 60 : 210
}

describe('a centre that is pointed at', () => {
  const strokes = Array.from({ length: 41 }, (_, i) => radial(CENTRE, -45 + 6.75 * i, [240, 290]))
  const raster = drawRaster([800, 760], strokes, { noise: 2, ground })

  it('is the shaft as the photo shows it, seen once, not twice: the strokes’ lines outweigh it (simulated)', () => {
    const seen = detect(raster, { centrePx: HUB }, { sheet: null })
    if (isUnmeasurable(seen)) throw new Error(seen.what)
    expect(seen.marks).toHaveLength(41)
    const [x, y] = seen.centrePx as Point
    // Pointed to 1.2 % of the radius, about 3 px; 41 lines meet to a few tenths.
    expect(Math.hypot(x - CENTRE[0], y - CENTRE[1])).toBeLessThan(1)
  })
})
