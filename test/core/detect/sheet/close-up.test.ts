import { describe, expect, it } from 'vitest'
import type { Point } from '#core/detect/raster'
import { impliedDesign } from '#core/detect/sheet/implied-design'
import { layoutSheet } from '#core/prepare/sheet/layout'
import { pageNumber } from '#core/detect/sheet/page-number'
import { seenAt } from '#core/detect/sheet/sheet-camera'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { pointerZone } from '#core/detect/sheet/zone'
import { findSurface } from '#core/detect/find-surface'
import { depthInside } from '#core/detect/usable'
import { invertHomography } from '#core/numeric/homography'
import { cameraFor, type Shot } from './photograph-shapes.ts'

// SIMULATED: a joined sheet of which only the ring of marks is in the picture, so that most targets of the outer pages are not.
const lengthMm = 120
const layout = layoutSheet({ rig: 'pointer', paper: 'letter', lengthMm, shaftHoleMm: 8 })
const shot: Shot = { width: 1600, height: 1500, tiltDeg: 12, leanDeg: 40, rollDeg: 70, fill: 1.02, aim: [0, 0], k: 0 }
const camera = cameraFor(shot)

const fixOf = (hides: (mm: readonly [number, number]) => boolean): SheetFix => {
  const inView = (mm: readonly [number, number]): boolean => {
    const [x, y] = seenAt(camera, mm)
    return x > 20 && y > 20 && x < shot.width - 20 && y < shot.height - 20 && !hides(mm)
  }
  const targets = layout.pages.flatMap(({ place, targets: printed }) => printed.filter(({ centre }) => inView(centre)).map(({ centre }) => ({ page: pageNumber(place), mm: centre, px: seenAt(camera, centre), used: true })))
  const numbers = [...new Set(targets.map(({ page }) => page))]
  return {
    kind: 'sheet-fix', rig: 'pointer', paper: 'letter',
    pages: layout.pages.filter(({ place }) => numbers.includes(pageNumber(place))).map(({ place }) => ({ page: pageNumber(place), column: place.column, row: place.row })),
    map: { homography: invertHomography(camera.homography), inverse: camera.homography, radial: null }, radial: null, targets,
    rectificationU: 0.01, centrePx: seenAt(camera, [0, 0]), centreCovariancePx: [0.01, 0, 0.01], pixelsPerMm: 5, payload: null,
  }
}

const round = (radius: number): Point[] => Array.from({ length: 72 }, (_, i) => seenAt(camera, [radius * Math.cos((i * Math.PI) / 36), radius * Math.sin((i * Math.PI) / 36)]))

describe('a joined sheet seen from near', () => {
  it('tells the pointer’s length from the targets in view, those beyond the picture’s edge left out', () => {
    const zone = pointerZone(lengthMm)
    const implied = impliedDesign(fixOf(() => false))
    if (implied === null || zone.kind !== 'ring') throw new Error('nothing implied')
    expect(implied.ringMm[0]).toBeLessThanOrEqual(zone.inner)
    expect(implied.ringMm[0]).toBeGreaterThan(zone.inner - 15)
    expect(implied.ringMm[1]).toBeGreaterThanOrEqual(zone.numberRing)
    expect(implied.ringMm[1]).toBeLessThan(zone.numberRing + 15)
  })

  it('looks for marks on the whole of a page, whichever of its targets were seen', () => {
    const [x, y] = [40, 60]
    const fix = fixOf(([a, b]) => a < -x || b > y)
    const { outline } = findSurface({ width: shot.width, height: shot.height, grey: new Uint8Array(0) }, {}, fix)
    if (outline === null) throw new Error('no outline')
    const cell = layout.pages.find(({ place }) => place.column === 0 && place.row === 0)?.cell
    if (cell === undefined) throw new Error('no page')
    for (const corner of [[cell.left + 2, cell.top + 2], [cell.right - 2, cell.bottom - 2], [cell.left + 2, cell.bottom - 2]] as const) expect(depthInside(outline, seenAt(camera, corner))).toBeGreaterThan(0)
  })

  it('looks all round the ring where the pointer’s length is known', () => {
    const fix = fixOf(() => false)
    const { outline } = findSurface({ width: shot.width, height: shot.height, grey: new Uint8Array(0) }, {}, fix)
    if (outline === null) throw new Error('no outline')
    for (const place of round(lengthMm)) expect(depthInside(outline, place)).toBeGreaterThan(2)
  })
})
