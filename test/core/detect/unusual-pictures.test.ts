import { describe, expect, it } from 'vitest'
import { detect } from '#core/detect/detect'
import type { Detection, Hints } from '#core/detect/detection'
import type { Point, Raster } from '#core/detect/raster'
import { applyHomography, fitHomography, type Homography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type DrawnStroke, drawRaster, radial } from './draw-raster.ts'

const found = (raster: Raster, hints: Hints = {}): Detection => {
  const seen = detect(raster, hints, { sheet: null })
  if (isUnmeasurable(seen)) throw new Error(seen.what)
  return seen
}

/** Greatest distance of the marks' angles from those drawn after the common offset, deg; every mark must be there. */
const worst = ({ marks }: Detection, drawn: readonly number[]): number => {
  expect(marks).toHaveLength(drawn.length)
  const sorted = [...drawn].sort((a, b) => a - b)
  const off = [...marks].map((m) => m.angleDeg as number).sort((a, b) => a - b).map((a, i) => a - (sorted[i] as number))
  const middle = [...off].sort((a, b) => a - b)[off.length >> 1] as number
  return Math.max(...off.map((o) => Math.abs(o - middle)))
}

const evenly = (count: number, from = 3): number[] => Array.from({ length: count }, (_, i) => from + (360 / count) * i + 0.4 * (i % 3))

describe('pictures that no phone takes of pen on white paper (simulated)', () => {
  it('reads lines one pixel wide on a ground without any noise, as a program draws them, all but one in ten', () => {
    const [width, height] = [800, 800]
    const grey = new Uint8Array(width * height).fill(255)
    const drawn = evenly(40)
    for (const { from, to } of drawn.map((b) => radial([401, 398], b, [290, 360]))) {
      for (let t = 0; t <= 1; t += 0.005) grey[Math.round(from[1] + t * (to[1] - from[1])) * width + Math.round(from[0] + t * (to[0] - from[0]))] = 0
    }
    const angles = found({ width, height, grey }).marks.map((m) => m.angleDeg as number)
    expect(angles.length).toBeGreaterThanOrEqual(36)
    // A line drawn to the nearest pixel is off by up to half of one, evened out along 70: some 0.1 px of 325, and four times as much for the worst of 40.
    for (const angle of angles) expect(Math.min(...drawn.map((d) => Math.abs(((angle - d + 540) % 360) - 180)))).toBeLessThan(0.1)
  })

  it('reads strokes that begin at the shaft', () => {
    const drawn = evenly(33)
    expect(worst(found(drawRaster([640, 640], drawn.map((b) => radial([321, 318], b, [14, 270])), { noise: 2 })), drawn)).toBeLessThan(0.05)
  })

  it('takes light strokes on dark card for the marks, and says so', () => {
    const drawn = evenly(40)
    const card = drawRaster([640, 640], drawn.map((b) => radial([321, 318], b, [200, 270], 3, -140)), { noise: 2, ground: 40 })
    const seen = found(card)
    expect(worst(seen, drawn)).toBeLessThan(0.05)
    expect(seen.doubts.join(' ')).toContain('--ink dark')
    expect(found(card, { ink: 'light' }).doubts.join(' ')).not.toContain('--ink')
  })

  it('does so where they stand so close that the card between them looks like dark strokes', () => {
    const drawn = evenly(120, 1)
    const card = drawRaster([640, 640], drawn.map((b, i) => radial([321, 318], b, [200 + 3 * (i % 4), 245 + 4 * (i % 3)], 4, -110)), { noise: 2, ground: 40, blur: 1.4 })
    expect(worst(found(card), drawn)).toBeLessThan(0.1)
  })

  it('does so with no photo of dark strokes that is only dim', () => {
    const drawn = evenly(40)
    const seen = found(drawRaster([640, 640], drawn.map((b) => radial([321, 318], b, [200, 270], 3, 40)), { noise: 1, ground: 62 }))
    expect(worst(seen, drawn)).toBeLessThan(0.05)
    expect(seen.doubts.join(' ')).not.toContain('--ink')
  })
})

describe('a sheet of A4 in a photo that was cropped, so that no camera would see it quite so (simulated)', () => {
  const corners: readonly Point[] = [[120, 80], [710, 95], [780, 560], [55, 540]]
  const sheet: readonly Point[] = [[0, 0], [297, 0], [297, 210], [0, 210]]
  const toPhoto = fitHomography(sheet, corners) as Homography
  const inside = (x: number, y: number): boolean => corners.every(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4] as Point
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0
  })
  const drawn = Array.from({ length: 31 }, (_, i) => 30 + 4 * i + 0.4 * (i % 3))
  const strokes = drawn.map((b): DrawnStroke => {
    const { from, to } = radial([148, 185], b, [110, 140])
    return { from: applyHomography(toPhoto, from), to: applyHomography(toPhoto, to), width: 2.5, dark: 120 }
  })
  const raster = drawRaster([850, 640], strokes, { noise: 2, ground: (x, y) => (inside(x, y) ? 215 : 70) })

  it('is rectified by its corners once its size is given, with a word about it', () => {
    const seen = found(raster, { paperMm: [210, 297] })
    expect(seen.rectifiedBy).toBe('paper')
    // Corners to a tenth of a px or two of 600 are worth some 0.03° over a third of a turn; the perspective left in would be worth 2°.
    expect(worst(seen, drawn)).toBeLessThan(0.1)
    expect(seen.doubts.join(' ')).toContain('cropped')
  })

  it('leaves a doubt in every angle that owns to it while the size is not known', () => {
    const seen = found(raster)
    expect(seen.rectificationUDeg).toBeGreaterThan(0.3 * worst(seen, drawn))
    expect(seen.doubts.join(' ')).toContain('--paper')
  })
})
