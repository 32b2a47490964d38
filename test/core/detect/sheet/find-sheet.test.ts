import { describe, expect, it } from 'vitest'
import { readCode } from '#adapters/photo/read-code'
import type { Raster } from '#core/detect/raster'
import { findSheet } from '#core/detect/sheet/find-sheet'
import { readPayload } from '#core/detect/sheet/read-payload'
import { seenAt } from '#core/detect/sheet/sheet-camera'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { sheetSurface } from '#core/detect/sheet/sheet-surface'
import { frameOf } from '#core/detect/surface'
import { toPhoto, toPlane } from '#core/detect/plane-map'
import { boxAbout } from '#core/detect/sheet/zone'
import { seededRandom } from '#core/numeric/seeded-random'
import { drawnPages } from '#core/prepare/sheet/drawn-pages'
import { cameraFor, type Look, photographShapes, type Shot } from './photograph-shapes.ts'

// Every photo here is SIMULATED from the drawn shapes; the truth is the camera that drew it.
const [page] = drawnPages({ rig: 'pointer', paper: 'a4', lengthMm: 80, motor: 'rail-2', stepsPerRev: 48, microsteps: 4 })
if (!page) throw new Error('a sheet has a page')
const shapes = page.shapes.filter(({ role }) => role === 'target' || role === 'code' || role === 'shaft')
const shot: Shot = { width: 1000, height: 750, tiltDeg: 25, leanDeg: 50, rollDeg: 95, fill: 0.9, aim: [3, -4], k: 0.03 }
const look: Look = { blurPx: 0.8, noise: 3, seed: 1 }
const photo = (s: Shot = shot, l: Look = look): Raster => photographShapes(shapes, [page.page.sheet], s, l)

/** rms over 24 directions of the angle's error at 80 mm, what turns all alike left out, deg. */
const angleError = (fix: SheetFix, s: Shot): number => {
  const errors = Array.from({ length: 24 }, (_, n) => (n * Math.PI) / 12).map((angle) => {
    const [x, y] = toPlane(fix.map, seenAt(cameraFor(s), [80 * Math.cos(angle), -80 * Math.sin(angle)]))
    const miss = Math.atan2(-y, x) - angle
    return (Math.atan2(Math.sin(miss), Math.cos(miss)) * 180) / Math.PI
  })
  const mean = errors.reduce((a, b) => a + b, 0) / errors.length
  return Math.sqrt(errors.reduce((sum, error) => sum + (error - mean) ** 2, 0) / errors.length)
}

const turnQuarter = ({ width, height, grey }: Raster): Raster => {
  const turned = new Uint8Array(grey.length)
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) turned[x * height + (height - 1 - y)] = grey[y * width + x] as number
  return { width: height, height: width, grey: turned }
}

describe('finding the sheet', () => {
  const raster = photo()
  const fix = findSheet(raster)

  it('is checked by its targets: it has no corners that a hand could drag', () => {
    const { cornersPx, targets } = frameOf(sheetSurface(fix as SheetFix))
    expect(cornersPx).toBeNull()
    expect(targets?.filter(({ used }) => used).length).toBe(page.page.targets.length)
  })

  it('recovers a tilt of 25° and the lens term to 0.01° in an angle', () => {
    expect(fix?.targets.length).toBe(page.page.targets.length)
    // Four standard uncertainties of k, as the fit states them.
    expect(Math.abs((fix?.radial?.k ?? 0) - shot.k)).toBeLessThan(4 * (fix?.radial?.uK ?? 0))
    expect(fix && angleError(fix, shot)).toBeLessThan(0.01)
    expect(fix && angleError(fix, shot)).toBeLessThan(4 * (fix?.rectificationU ?? 0))
  })

  it('maps there and back', () => {
    if (!fix) throw new Error('not found')
    const [x, y] = toPlane(fix.map, toPhoto(fix.map, [31, -72]))
    expect([x, y]).toEqual([expect.closeTo(31, 7), expect.closeTo(-72, 7)])
  })

  it('finds the same whichever way the photo is turned', () => {
    let turned = raster
    for (let quarter = 1; quarter < 4; quarter++) {
      turned = turnQuarter(turned)
      const again = findSheet(turned)
      expect(again?.targets.length).toBe(fix?.targets.length)
      expect(again?.rectificationU).toBeCloseTo(fix?.rectificationU ?? 0, 3)
    }
  })

  it('does with any few targets what it does with all', () => {
    const random = seededRandom(5)
    for (const hidden of [3, 10, page.page.targets.length - 5]) {
      const covers = [...page.page.targets].sort(() => random() - 0.5).slice(0, hidden).map(({ centre }) => boxAbout(centre, 12, 12))
      const partly = findSheet(photo(shot, { ...look, covers }))
      expect(partly?.targets.length).toBeGreaterThanOrEqual(page.page.targets.length - hidden - 1)
      if (hidden === 3) expect(partly && angleError(partly, shot)).toBeLessThan(0.01)
    }
  })

  it('refuses a mirrored picture, and finds nothing where nothing is printed', () => {
    expect(findSheet(photo(shot, { ...look, mirrored: true }))).toBeNull()
    const random = seededRandom(9)
    expect(findSheet({ width: 800, height: 600, grey: Uint8Array.from({ length: 480_000 }, () => 255 * random()) })).toBeNull()
    expect(findSheet({ width: 800, height: 600, grey: new Uint8Array(480_000).fill(200) })).toBeNull()
  })

  it('holds at 640 × 480 with blur and noise, and says what that costs', () => {
    const small: Shot = { ...shot, width: 640, height: 480, k: 0 }
    const coarse = findSheet(photo(small, { blurPx: 0.9, noise: 5, seed: 3 }))
    expect(coarse && angleError(coarse, small)).toBeLessThan(0.03)
    expect(coarse?.rectificationU).toBeGreaterThan(fix?.rectificationU ?? 1)
  })

  it('reads the set-up from the rectified code, and leaves a fix as it is without one', async () => {
    if (!fix) throw new Error('not found')
    const read = await readPayload(raster, fix, readCode)
    expect(read.payload).toMatchObject({ rig: 'pointer', paper: 'a4', lengthMm: 80, stepsPerRev: 48, microsteps: 4, motor: 'rail-2', barMm: 100 })
    expect((await readPayload(raster, fix, async () => null)).payload).toBeNull()
    expect((await readPayload(raster, fix, async () => 'SWS1:M:A:1/1:80:48:4:100:x')).payload).toBeNull()
  })
})
