import type { Point } from '#core/detect/raster'
import { describe, expect, it } from 'vitest'
import type { DrawnStroke } from '../draw-raster.ts'
import { onPhoto } from '../tilted-camera.ts'
import { marks, plane, scatter, seen } from '../tilted-marks.ts'

// All pictures here are simulated.

/** Where the hub is seen, from the shaft in plane units. */
const HUB: Point = [7, 2]

const circle = (radius: number, [from, to]: readonly [number, number], centre: Point = [0, 0]): DrawnStroke[] =>
  Array.from({ length: Math.round((to - from) / 2) }, (_, i): DrawnStroke => ({ from: onPhoto(plane, radius, from + 2 * i, centre), to: onPhoto(plane, radius, from + 2 * i + 2, centre), width: 2, dark: 70 }))

describe('perspective from a circle about the shaft', () => {
  const bare = seen(marks)

  it('is left in where there is none: tens of times the marks’ own uncertainty', () => {
    expect(bare.rectifiedBy).toBe('none')
    expect(scatter(bare)).toBeGreaterThan(0.2)
  })

  it('is taken out by a whole circle inside the marks, to what the centre leaves; no piece of the circle is taken for a mark', () => {
    const detection = seen([...marks, ...circle(225, [0, 360])])
    expect(detection.rectifiedBy).toBe('circle')
    expect(detection.rectificationUDeg).toBeLessThan(0.05)
    expect(scatter(detection)).toBeLessThan(3 * Math.hypot(detection.rectificationUDeg ?? 0, detection.centreUDeg ?? 0))
    expect(scatter(detection)).toBeLessThan(scatter(bare) / 4)
  })

  it('is taken out by a circle that runs through the marks, and by two thirds of one', () => {
    for (const strokes of [circle(258, [0, 360]), circle(225, [100, 340])]) {
      const detection = seen([...marks, ...strokes])
      expect(detection.rectifiedBy).toBe('circle')
      expect(scatter(detection)).toBeLessThan(scatter(bare) / 4)
    }
  })

  // A hub that stands above the marks' plane is seen beside the shaft's foot, and its two rims are one thing.
  it('keeps the centre that the strokes show where a hub is seen beside it', () => {
    const hub = [...circle(30, [0, 360], HUB).map((one) => ({ ...one, width: 8, dark: 110 })), ...circle(14, [0, 360], HUB).map((one) => ({ ...one, width: 18, dark: 60 }))]
    const detection = seen([...marks, ...circle(225, [0, 360]), ...hub])
    expect(detection.rectifiedBy).toBe('circle')
    expect(scatter(detection)).toBeLessThan(scatter(bare) / 4)
  })

  it('is not taken from a circle about another point, nor from a short arc', () => {
    for (const strokes of [circle(200, [0, 360], [28, 20]), circle(225, [80, 150])]) expect(seen([...marks, ...strokes]).rectifiedBy).toBe('none')
  })

  // A camera that sees a circle so looks along the paper.
  it('is not taken from an oval about the shaft, however truly it is drawn', () => {
    for (const [long, short] of [[225, 165], [210, 150]] as const) {
      const at = (deg: number): Point => onPhoto(plane, 0, 0, [long * Math.cos((deg * Math.PI) / 180), short * Math.sin((deg * Math.PI) / 180)])
      const oval = Array.from({ length: 180 }, (_, i): DrawnStroke => ({ from: at(2 * i), to: at(2 * i + 2), width: 2, dark: 70 }))
      expect(seen([...marks, ...oval]).rectifiedBy).toBe('none')
    }
  })
})
