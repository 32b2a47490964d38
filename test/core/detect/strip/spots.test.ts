import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import type { Point, Raster } from '#core/detect/raster'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster, seededRandom } from '../draw-raster.ts'

const PX = 7
const places = Array.from({ length: 30 }, (_, n) => 12 + 4.6 * n + 0.7 * Math.sin(1.7 * n))
const scalePx = { from: [0, 200] as Point, to: [100 * PX, 200] as Point, mm: 100 }

const found = (raster: Raster): Detection => {
  const answer = detect(raster, { rig: 'mirror', scalePx }, { sheet: null })
  if (isUnmeasurable(answer)) throw new Error(`${answer.what}: ${answer.remedy}`)
  return answer
}

/** A dot, an upright or a slanting cross at each place, a little above or below the line. */
const shapes: Readonly<Record<string, (x: number, y: number) => DrawnStroke[]>> = {
  dots: (x, y) => [{ from: [x - 5, y], to: [x + 5, y], width: 10, dark: 130 }],
  'upright crosses': (x, y) => [{ from: [x, y - 12], to: [x, y + 12], width: 3, dark: 130 }, { from: [x - 12, y], to: [x + 12, y], width: 3, dark: 130 }],
  'slanting crosses': (x, y) => [{ from: [x - 9, y - 9], to: [x + 9, y + 9], width: 3, dark: 130 }, { from: [x - 9, y + 9], to: [x + 9, y - 9], width: 3, dark: 130 }],
}

const drawn = (shape: string, slope: number): Raster => {
  const random = seededRandom(8)
  return drawRaster([1150, 400], places.flatMap((mm) => shapes[shape]?.(mm * PX, 200 + slope * (mm * PX - 500) + 4 * (random() - 0.5)) ?? []), { noise: 2 })
}

describe('a light spot marked otherwise than by a stroke', () => {
  it.each(Object.keys(shapes))('%s in a row are placed along it', (shape) => {
    const detection = found(drawn(shape, 0))
    expect(detection.marks).toHaveLength(30)
    detection.marks.forEach((m, i) => expect(Math.abs((m.positionMm as number) - ((places[i] as number) - (places[0] as number)))).toBeLessThan(0.05))
  })

  it('so are dots in a row that rises', () => {
    const detection = found(drawn('dots', 0.1))
    expect(detection.marks).toHaveLength(30)
    const along = Math.hypot(1, 0.1)
    detection.marks.forEach((m, i) => expect(Math.abs((m.positionMm as number) - along * ((places[i] as number) - (places[0] as number)))).toBeLessThan(0.08))
  })

  it('dots in a row are told from a dial by themselves', () => {
    const answer = detect(drawn('dots', 0.05), {}, { sheet: null })
    expect(isUnmeasurable(answer) ? null : answer.rig).toBe('mirror')
  })

  it('a dot far paler than the others is found on their line, and listed as doubtful', () => {
    const pale = 12
    const dots = places.map((mm, n): DrawnStroke => ({ from: [mm * PX - 5, 200], to: [mm * PX + 5, 200], width: 10, dark: n === pale ? 22 : 130 }))
    const detection = found(drawRaster([1150, 400], dots, { noise: 2 }))
    expect(detection.marks).toHaveLength(30)
    expect(detection.marks.map((m) => m.confidence < 0.5)).toEqual(places.map((_, n) => n === pale))
  })

  it('crosses that touch are left out, and that is said', () => {
    const near = [...places.slice(0, 20), (places[19] as number) + 2]
    const detection = found(drawRaster([1150, 400], near.flatMap((mm) => shapes['slanting crosses']?.(mm * PX, 200) ?? []), { noise: 2 }))
    expect(detection.marks).toHaveLength(19)
    expect(detection.doubts.join(' ')).toContain('larger than the rest')
  })

  it('dots beside a ruler are the marks, not the ruler’s ticks', () => {
    const ticks = Array.from({ length: 140 }, (_, n): DrawnStroke => ({ from: [20 + n * PX, 300], to: [20 + n * PX, 300 + PX * (n % 10 === 0 ? 6 : n % 5 === 0 ? 4.5 : 3)], width: 1.8, dark: 120 }))
    const detection = found(drawRaster([1150, 400], [...places.flatMap((mm) => shapes.dots?.(mm * PX, 200) ?? []), ...ticks], { noise: 2 }))
    expect(detection.marks).toHaveLength(30)
    expect(detection.rectifiedBy).toBe('ruler')
  })

  it('nothing in a row is refused with a cure', () => {
    const answer = detect(drawRaster([900, 400], [], { noise: 3 }), { rig: 'mirror' }, { sheet: null })
    expect(isUnmeasurable(answer) && answer.remedy).toContain('--ignore')
  })
})
