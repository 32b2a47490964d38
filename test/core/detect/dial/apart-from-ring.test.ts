import { detect } from '#core/detect/detect'
import type { Point } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { drawRaster, type DrawnStroke, normal, radial, seededRandom } from '../draw-raster.ts'

const CENTRE = [330.2, 250.7] as const
/** cos 20°: the paper tilted about the picture's x axis, perspective left out (simulated). */
const SQUEEZE = 0.94

const tilted = ({ from, to, ...rest }: DrawnStroke): DrawnStroke => {
  const squeezed = ([x, y]: Point): Point => [x, CENTRE[1] + SQUEEZE * (y - CENTRE[1])]
  return { ...rest, from: squeezed(from), to: squeezed(to) }
}

const random = seededRandom(8)
const marks = Array.from({ length: 40 }, (_, i) => radial(CENTRE, 9 * i + 0.3 * normal(random), [160 - 4 * random(), 184 + 6 * random()], 2.4, 110))

const marksRead = (strokes: readonly DrawnStroke[]): number => {
  const found = detect(drawRaster([660, 500], strokes.map(tilted), { noise: 3, seed: 3 }), {})
  if (isUnmeasurable(found)) throw new Error(found.what)
  return found.marks.filter((m) => m.confidence >= 0.5).length
}

describe('strokes beside the ring of marks', () => {
  it('takes the ones of numbers written at a tilted dial for no marks, though the dial’s farther marks reach as far out', () => {
    const ones = [94, 112, 130, 247, 265, 283].map((deg) => radial(CENTRE, deg + 1, [193, 209], 2, 110))
    expect(marksRead([...marks, ...ones])).toBe(marks.length)
  })

  it('keeps marks of unequal length that share some of their fellows’ radii', () => {
    const unequal = marks.map((_, i) => radial(CENTRE, 9 * i, [i % 3 === 0 ? 172 : 158, i % 4 === 0 ? 199 : 182], 2.4, 110))
    expect(marksRead(unequal)).toBe(unequal.length)
  })
})
