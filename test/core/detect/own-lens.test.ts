import { detect } from '#core/detect/detect'
import type { Detection } from '#core/detect/detection'
import type { Quad } from '#core/detect/paper/find-quad'
import { choosePaper, guessShape, sheetCorners } from '#core/detect/paper/paper-size'
import type { Lens, Raster } from '#core/detect/raster'
import { focalPx, lensCost } from '#core/detect/lens'
import { applyHomography } from '#core/numeric/homography'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, drawRaster } from './draw-raster.ts'
import { onPhoto, tiltedPlane } from './tilted-camera.ts'

// All pictures here are simulated: a camera of 70 mm on 35-mm film, 35.3 mm long, which is 2.3 times as long as usual ones.

const FRAME = { width: 1000, height: 750 }
const TELE: Lens = { focal: 70 / 35.3, spread: 0.06 }
const plane = tiltedPlane({ focal: 1000 * TELE.focal, axis: [499.5, 374.5], tiltDeg: 24, leanDeg: 33, place: [512, 392], scale: 1 })

const BEARINGS = Array.from({ length: 31 }, (_, k) => 65 + 4 * k)
const marks = BEARINGS.map((b, k): DrawnStroke => ({ from: onPhoto(plane, 240, b), to: onPhoto(plane, 275 + 6 * (k % 3), b), width: 3, dark: 120 }))
const rules = Array.from({ length: 33 }, (_, i): DrawnStroke => {
  const at = (x: number, y: number) => applyHomography(plane, [Math.cos(0.21) * x - Math.sin(0.21) * y, Math.sin(0.21) * x + Math.cos(0.21) * y])
  return { from: at(-400, 24 * (i - 16)), to: at(400, 24 * (i - 16)), width: 1.2, dark: 16 }
})
const circle = Array.from({ length: 120 }, (_, i): DrawnStroke => ({ from: onPhoto(plane, 225, 3 * i), to: onPhoto(plane, 225, 3 * i + 3), width: 2, dark: 70 }))
const draw = (strokes: readonly DrawnStroke[]): Raster => drawRaster([FRAME.width, FRAME.height], strokes, { noise: 2 })
const ruled = draw([...marks, ...rules])

const seenBy = (lens: Lens | null, picture = ruled): Detection => {
  const seen = detect(lens === null ? picture : { ...picture, lens }, {}, { sheet: null })
  if (isUnmeasurable(seen)) throw new Error(seen.what)
  return seen
}

/** rms of the marks' angle errors after their common offset, deg. */
const scatter = ({ marks: found }: Detection): number => {
  expect(found).toHaveLength(BEARINGS.length)
  const off = found.map((m, i) => (((m.angleDeg as number) - (BEARINGS[i] as number) + 540) % 360) - 180)
  const mean = off.reduce((s, v) => s + v, 0) / off.length
  return Math.sqrt(off.reduce((s, v) => s + (v - mean) ** 2, 0) / off.length)
}

/** Corners of a sheet of that size (mm) on the tilted plane. */
const cornersOf = ([w, h]: readonly [number, number]): Quad => sheetCorners([w, h]).map(([x, y]) => applyHomography(plane, [2 * (x - w / 2), 2 * (y - h / 2)])) as unknown as Quad

describe('a lens that the photo names', () => {
  it('takes the perspective out by rules to a tenth of what a usual lens leaves, and says less is left', () => {
    const [usual, named] = [seenBy(null), seenBy(TELE)]
    expect([usual.rectifiedBy, named.rectifiedBy]).toEqual(['rules', 'rules'])
    expect(scatter(named)).toBeLessThan(scatter(usual) / 10)
    expect(scatter(named)).toBeLessThan(2 * Math.hypot(named.rectificationUDeg ?? 0, named.centreUDeg ?? 0))
  })

  it('tells the proportions of a sheet of no known size: A5 set on end', () => {
    const off = (lens?: Lens): number => {
      const [w, h] = guessShape(cornersOf([148, 210]), { ...FRAME, ...(lens && { lens }) })?.choice.sizeMm ?? [1, 1]
      return Math.abs(Math.log(((w / h) * 210) / 148))
    }
    expect(off(TELE)).toBeLessThan(0.004)
    expect(off()).toBeGreaterThan(4 * off(TELE))
  })

  // A photo cropped to half its width makes a lens of 35 mm of what took it with 70.
  it('does not turn a sheet of paper down where it was named wrongly: then any usual lens may have taken it', () => {
    const misfit = (lens?: Lens): number => choosePaper(cornersOf([210, 297]), { ...FRAME, ...(lens && { lens }) })?.misfit ?? Number.NaN
    expect(misfit({ focal: TELE.focal / 2, spread: TELE.spread })).toBeLessThan(misfit() + 9.001)
    expect(misfit(TELE)).toBeLessThan(0.5)
  })

  it('does not turn a circle down where it was named wrongly: a circle needs none', () => {
    const told = seenBy({ focal: TELE.focal / 5, spread: TELE.spread }, draw([...marks, ...circle]))
    expect(told.rectifiedBy).toBe('circle')
    expect(scatter(told)).toBeLessThan(0.02)
  })

  it('costs nothing at its own focal length, a unit at one spread, and no more than 9 above a usual one', () => {
    const picture = { ...FRAME, lens: TELE }
    expect(focalPx(picture)).toBeCloseTo(1983.0, 1)
    expect(lensCost(picture, Math.log(TELE.focal))).toBe(0)
    expect(lensCost(picture, Math.log(TELE.focal) + 0.06)).toBeCloseTo(1, 10)
    expect(lensCost(picture, Math.log(0.85))).toBe(9)
    expect(lensCost(FRAME, Math.log(0.85) - 0.3)).toBeCloseTo(1, 10)
  })
})
