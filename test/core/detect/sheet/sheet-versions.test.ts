import { describe, expect, it } from 'vitest'
import { readCode } from '#adapters/photo/read-code'
import type { Raster } from '#core/detect/raster'
import { barePaper } from '#core/detect/sheet/bare-paper'
import { findSheet } from '#core/detect/sheet/find-sheet'
import { impliedDesign } from '#core/detect/sheet/implied-design'
import { layoutSheet, type SheetPage } from '#core/prepare/sheet/layout'
import { encodePayload } from '#core/detect/sheet/payload'
import { type SheetVersion, sheetVersions } from '#core/detect/sheet/sheet-version'
import { readPayload } from '#core/detect/sheet/read-payload'
import { toPhoto } from '#core/detect/plane-map'
import type { Place } from '#core/detect/sheet/page-size'
import { codeShapes } from '#core/prepare/sheet/code-shapes'
import { photographShapes } from './photograph-shapes.ts'

// SIMULATED: the shaft's page of a Letter sheet for 90 mm, the one whose code the versions print in different places.
const lengthMm = 90
const payload = { rig: 'pointer', paper: 'letter', page: 1, pages: 3, lengthMm, stepsPerRev: 48, microsteps: 4, barMm: 100, motor: 'rail-2' } as const

const pageOf = (version: SheetVersion): SheetPage =>
  layoutSheet({ rig: 'pointer', paper: 'letter', lengthMm, shaftHoleMm: 8, version }).pages[1] as SheetPage

const photoOf = (version: SheetVersion): Raster => {
  const page = pageOf(version)
  const targets = page.shapes.filter(({ role }) => role === 'target')
  const shot = { width: 700, height: 840, tiltDeg: 15, leanDeg: 50, rollDeg: 5, fill: 0.9, aim: [3, -4] as const, k: 0 }
  return photographShapes([...targets, ...codeShapes(encodePayload({ version, ...payload }), page.code as Place)], [page.sheet], shot, { blurPx: 0.6, noise: 3, seed: 1 })
}

describe('a Letter sheet whose ring fills the page', () => {
  it('has its code clear of the trim from the second version on', () => {
    expect(pageOf(1).code).toEqual([0, -120])
    expect(pageOf(2).code).toEqual([62.5, -112.5])
  })

  it.each(sheetVersions)('of version %i tells its pointer’s length by the targets alone, and is read whole with its code', async (version) => {
    const raster = photoOf(version)
    const found = findSheet(raster)
    if (!found) throw new Error('not found')
    const implied = impliedDesign(found)
    expect(implied?.ringMm[0]).toBeLessThanOrEqual(lengthMm - 28)
    expect(implied?.ringMm[1]).toBeGreaterThanOrEqual(100)
    const fix = await readPayload(raster, found, readCode)
    expect(fix.payload).toEqual({ version, ...payload })
    const onCode = toPhoto(fix.map, pageOf(version).code as Place)
    expect([barePaper(found)(onCode), barePaper(fix)(onCode)]).toEqual([false, false])
  })
})
