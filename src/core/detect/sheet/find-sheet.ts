import { workingFactor } from '#core/detect/plane'
import type { Raster } from '#core/detect/raster'
import { homographySlopes, invertHomography } from '#core/numeric/homography'
import { cameraOf, type FitFrame } from './fit-sheet.ts'
import { type MatchedTarget, matchPage, type PageMatch, type ReadRing } from './match-page.ts'
import { pageOfNumber } from './page-number.ts'
import { cellMm } from './page-size.ts'
import { readTarget } from './read-target.ts'
import { refineTarget } from './refine-target.ts'
import { ringCandidates } from './ring-candidates.ts'
import { type RobustSheet, robustSheet } from './robust-sheet.ts'
import { ringCentreAt, seenAt, type SheetCamera } from './sheet-camera.ts'
import { angleDoubt, imageCovariance, positionDoubt } from './sheet-doubt.ts'
import type { SheetFix, TargetSeen } from './sheet-fix.ts'

/** Radius at which the angle's uncertainty is stated, mm. */
const referenceRadiusMm = 80

/** A photo whose longer side has no more px than this is looked at as it is. */
const smallPx = 1400

const readRings = (raster: Raster, factor: number): readonly ReadRing[] =>
  ringCandidates(raster, factor).flatMap((candidate) => {
    const outer = refineTarget(raster, candidate)
    const reading = outer && readTarget(raster, outer)
    return outer && reading ? [{ outer, ...reading }] : []
  })

/** Looks in the reduced picture that lines are looked for in, too; in a finer one only when some targets, but too few, were seen. */
const matchIn = (raster: Raster): PageMatch | null => {
  const coarse = Math.max(raster.width, raster.height) > smallPx ? 2 * workingFactor(raster) : 1
  for (let factor = coarse; factor >= 1; factor = Math.floor(factor / 2)) {
    const rings = readRings(raster, factor)
    const match = matchPage(rings)
    if (match || rings.length < 2) return match
  }
  return null
}

const frameOf = ({ width, height }: Raster): FitFrame => ({
  centrePx: [(width - 1) / 2, (height - 1) / 2],
  scalePx: Math.hypot(width, height) / 2,
})

const seenTarget = (camera: SheetCamera, { ring, page, mm }: MatchedTarget, used: boolean): TargetSeen => {
  const modelled = ringCentreAt(camera, mm)
  const [x, y] = seenAt(camera, mm)
  return { page, mm, px: [x + ring.outer.centre[0] - modelled[0], y + ring.outer.centre[1] - modelled[1]], used }
}

const scaleOf = (camera: SheetCamera, at: readonly [number, number]): number => {
  const [a, b, c, d] = homographySlopes(camera.homography, at)
  return Math.sqrt(Math.abs(a * d - b * c))
}

const radialOf = ({ solution, sigmaPx }: RobustSheet): SheetFix['radial'] => {
  if (!solution.model.radial) return null
  const uK = sigmaPx * Math.sqrt(solution.inverseNormal[8]?.[8] ?? 0)
  return { k: solution.parameters[8] ?? 0, uK, ...solution.model.frame }
}

const describe = (robust: RobustSheet): SheetFix => {
  const { solution, used, left, sigmaPx } = robust
  const [camera, radial] = [cameraOf(solution.model, solution.parameters), radialOf(robust)]
  const numbers = [...new Set(used.map(({ page }) => page))].sort((a, b) => a - b)
  const places = numbers.map((page) => ({ page, ...pageOfNumber(page) }))
  const [{ rig, paper } = pageOfNumber(0)] = places
  const cell = cellMm(rig, paper).width
  const columns = places.map(({ column }) => column)
  const span = [Math.min(...columns) * cell, (Math.max(...columns) + 1) * cell] as const
  const pixelsPerMm = scaleOf(camera, rig === 'pointer' ? [0, 0] : [(span[0] + span[1]) / 2, 0])
  return {
    kind: 'sheet-fix',
    rig,
    paper,
    pages: places.map(({ page, column, row }) => ({ page, column, row })),
    map: { homography: invertHomography(camera.homography), inverse: camera.homography, radial },
    radial,
    targets: [...used.map((target) => seenTarget(camera, target, true)), ...left.map((target) => seenTarget(camera, target, false))],
    rectificationU: rig === 'pointer' ? angleDoubt(solution, sigmaPx, referenceRadiusMm) : positionDoubt(solution, sigmaPx, span),
    centrePx: seenAt(camera, [0, 0]),
    centreCovariancePx: imageCovariance(solution, sigmaPx, [0, 0]),
    pixelsPerMm,
    payload: null,
  }
}

/**
 * Finds a printed sheet in a photo by its reference targets: any four of one page will do, whatever covers the rest,
 * however the photo is turned. Null when there is no sheet, or when the picture is mirrored. The code is not read here.
 */
export const findSheet = (raster: Raster): SheetFix | null => {
  const match = matchIn(raster)
  if (match === null) return null
  const robust = robustSheet(match, frameOf(raster))
  return robust === null ? null : describe(robust)
}
