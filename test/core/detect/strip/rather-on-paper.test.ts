import { detect } from '#core/detect/detect'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'
import { unevenPlaces } from './draw-strip.ts'

// Simulated: a strip of paper on a wall papered with rows of short upright dashes, darker and more even than the marks.
const SIZE = [1200, 700] as const
const places = unevenPlaces(24, 40, 4).map((x) => x + 60)
const marks = places.map((x): DrawnStroke => ({ from: [x, 330], to: [x, 362], width: 3, dark: 90 }))
const dashes = [60, 150, 240, 450, 540, 630].flatMap((y, row) => Array.from({ length: 44 }, (_, i): DrawnStroke => ({ from: [20 + 26 * i + 3 * row, y], to: [20 + 26 * i + 3 * row, y + 30], width: 3, dark: 95 })))
const onWall = (_: number, y: number): number => (y > 305 && y < 390 ? 225 : 140)

const read = (strokes: readonly DrawnStroke[]) => {
  const detection = detect(drawRaster(SIZE, strokes, { noise: 2, ground: onWall }), { rig: 'mirror' }, { sheet: null })
  if (isUnmeasurable(detection)) throw new Error(detection.what)
  return detection
}

describe('a strip of paper on a wall with a pattern', () => {
  it('has the marks, and that another row lies beside it is said', () => {
    const detection = read([...marks, ...dashes])
    expect(detection.marks).toHaveLength(places.length)
    // Blurred edges of 3 px strokes under noise of 2 grey levels: hundredths of a px.
    detection.marks.forEach((mark, i) => expect(Math.abs((mark.p0[0] + mark.p1[0]) / 2 - (places[i] as number))).toBeLessThan(0.3))
    expect(detection.doubts.join()).toContain('another row')
  })

  it('does not have them where the strip is bare: then the row on the wall is read', () => {
    expect(read(dashes.slice(0, 44)).marks.length).toBeGreaterThan(40)
  })
})
