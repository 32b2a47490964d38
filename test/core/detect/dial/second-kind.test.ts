import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import { oneBroadPen } from '#core/detect/dial/second-kind'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster, radial } from '../draw-raster.ts'

// All pictures here are simulated.
const CENTRE = [322.3, 241.7] as const
const COUNT = 40
const turn = (draw: (k: number, bearing: number) => DrawnStroke): DrawnStroke[] => Array.from({ length: COUNT }, (_, k) => draw(k, (360 * k) / COUNT + 1.3))

const found = (strokes: readonly DrawnStroke[]): Detection => {
  const detection = detect(drawRaster([640, 480], strokes, { noise: 3 }), {}, { sheet: null })
  if (isUnmeasurable(detection)) throw new Error(detection.what)
  return detection
}

const taken = ({ marks }: Detection) => marks.filter((m) => m.confidence >= 0.5)

/** rms of angle errors after their common offset, deg; the drawing is exact, so some hundredths would be a fault. */
const scatter = (detection: Detection): number => {
  const off = taken(detection).map((m, k) => (m.angleDeg as number) - ((360 * k) / COUNT + 1.3))
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.sqrt(off.reduce((s, v) => s + (v - mean) ** 2, 0) / off.length)
}

describe('marks drawn unlike the rest on purpose', () => {
  it('reads every tenth mark drawn broader as one mark, says so, and is a little less sure of it', () => {
    const detection = found(turn((k, bearing) => radial(CENTRE, bearing, [150, k % 10 === 0 ? 205 : 190], k % 10 === 0 ? 8 : 3)))
    expect(taken(detection)).toHaveLength(COUNT)
    expect(detection.marks.every((m) => m.multiplicity === 1)).toBe(true)
    expect(scatter(detection)).toBeLessThan(0.02)
    expect(detection.doubts.join(' ')).toMatch(/4 marks are about .* as broad as most and alike/)
    const broad = detection.marks.filter((m) => m.widthPx > 6)
    const sure = detection.marks.filter((m) => m.widthPx < 6)
    expect(Math.max(...broad.map((m) => m.confidence))).toBeLessThan(Math.min(...sure.map((m) => m.confidence)))
  })

  it('reads marks of two pens, one twice as broad, as one each', () => {
    const detection = found(turn((k, bearing) => radial(CENTRE, bearing, [150, 190], k % 2 === 0 ? 2.2 : 5)))
    expect(taken(detection)).toHaveLength(COUNT)
    expect(scatter(detection)).toBeLessThan(0.02)
  })

  it('takes one broad bar among narrow marks for none of them', () => {
    const detection = found([...turn((_, bearing) => radial(CENTRE, bearing, [150, 190])), radial(CENTRE, 24, [110, 190], 11)])
    expect(taken(detection)).toHaveLength(COUNT)
  })

  it('reads long marks that nearly meet at the shaft', () => {
    const detection = found(turn((_, bearing) => radial(CENTRE, bearing, [20, 170])))
    expect(taken(detection)).toHaveLength(COUNT)
    expect(scatter(detection)).toBeLessThan(0.02)
  })
})

describe('oneBroadPen', () => {
  it('tells a second pen from strokes that run into each other by their widths', () => {
    expect(oneBroadPen([5, 5.1, 4.9, 5.2])).toBe(true)
    expect(oneBroadPen([4, 5.5, 7, 4.6, 6.1])).toBe(false)
    expect(oneBroadPen([5, 5])).toBe(false)
  })
})
