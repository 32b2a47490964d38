import { setupOf, trueScale } from '#core/detect/sheet/read-payload'
import { rms } from '#core/numeric/moments'
import { areBundles, bundleDoubtPx, dialDoubts } from './dial-doubts.ts'
import { bowDoubts, centreDoubts, mapDoubts, UNKNOWN_TILT_DEG } from '#core/detect/bearing-doubts'
import type { DetectedMark, Detection, Hints } from '#core/detect/detection'
import { doubtSurplus, explainCount, oddGaps } from '#core/detect/explain-count'
import { alongDoubt, isBroad, leanDoubtPx, likenessOf, multiplicityOf } from './judge-marks.ts'
import { inkCentroid, markBearing } from './mark-bearing.ts'
import { jacobianAt, type PlaneMap, pxPerUnitAt, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Dial } from './read-dial.ts'
import { overRing } from './over-ring.ts'
import { stretched } from './square-on.ts'
import { halfApart, pulledAside, usualBeside } from '#core/detect/stroke/pulled-aside'
import { centreLineAt, endAwayFrom, seenWidth } from '#core/detect/stroke/stroke-model'
import { frameOf, isSized, type Surface } from '#core/detect/surface'

const DEG = 180 / Math.PI

/** Did the full turn of marks have its say in the perspective? */
const byTurn = ({ turn }: Dial): boolean => turn !== null && turn.uStretch > 0

/** What told most of it. */
const rectifiedBy = (dial: Dial): Detection['rectifiedBy'] => (byTurn(dial) && (dial.turn?.told ?? 0) > 0.5 ? 'turn' : dial.surface.by)

/** What the perspective leaves in each mark's bearing, deg. */
const perspectiveDoubts = (points: readonly Point[], centrePx: Point, map: PlaneMap, { alternatives, by, sheet }: Surface, dial: Dial): number[] => {
  const even = (u: number): number[] => points.map(() => u)
  if (sheet !== null) return even(sheet.rectificationU)
  if (byTurn(dial)) return even(DEG * (dial.turn?.uStretch ?? 0))
  return by === 'none' ? even(UNKNOWN_TILT_DEG) : mapDoubts(points, centrePx, map, alternatives)
}

/** Covariance of a plane point taken to the photo. */
const covarianceInPhoto = ([xx, xy, yy]: readonly [number, number, number], map: PlaneMap, px: Point): readonly [number, number, number] => {
  const [a, b, c, d] = jacobianAt(map, px)
  const det = a * d - b * c
  const [p, q, r, s] = [d / det, -b / det, -c / det, a / det]
  return [p * p * xx + 2 * p * q * xy + q * q * yy, p * r * xx + (p * s + q * r) * xy + q * s * yy, r * r * xx + 2 * r * s * xy + s * s * yy]
}

/** Puts a dial into the words of a detection: angles about the centre with their uncertainties. */
export const describeDial = (raster: Raster, dial: Dial, hints: Hints): Detection => {
  const { surface } = dial
  const map = stretched(dial)
  const { centre, covariance } = dial.centre
  const centrePx = toPhoto(dial.map, centre)
  const like = likenessOf(dial.marks)
  const places = dial.marks.map((m) => inkCentroid(m.fit, dial.map))
  const middles = places.map((p) => toPhoto(dial.map, p))
  const byCentre = centreDoubts(places, centre, covariance).map((u) => DEG * u)
  const byBow = bowDoubts(middles, centrePx, surface.bow?.px ?? 0)
  const byRectification = perspectiveDoubts(middles, centrePx, map, surface, dial).map((u, i) => Math.hypot(u, byBow[i] as number))
  const aside = pulledAside(dial.marks.map((m) => m.fit), dial.marks.map((m) => isBroad(m, like)))
  const widths = dial.marks.map((m) => seenWidth(m.fit.model))
  const likelyPixelsPerMm = surface.metric ? pxPerUnitAt(map, centrePx) / (surface.sheet === null ? 1 : trueScale(surface.sheet)) : null
  const sized = isSized(surface, hints)
  const bundles = areBundles(like.width[0], likelyPixelsPerMm)
  const seen = dial.marks.map((mark, i): DetectedMark => {
    const { model } = mark.fit
    const [width, usual] = [widths[i] as number, usualBeside(widths, i)]
    const multiplicity = multiplicityOf(mark, like, width / usual)
    const merged = bundles ? bundleDoubtPx(width) : multiplicity > 1 ? halfApart(width, usual) : 0
    const { angleDeg, uDeg: uOwnDeg } = markBearing(mark.fit, map, toPlane(map, centrePx), { asidePx: Math.hypot(aside[i] as number, merged, leanDoubtPx(mark, like)), along: alongDoubt(mark, like) })
    const outward = endAwayFrom(model, centrePx)
    const uDeg = Math.hypot(uOwnDeg, byCentre[i] as number, byRectification[i] as number)
    return { angleDeg, uDeg, uOwnDeg, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: centreLineAt(model, -outward), p1: centreLineAt(model, outward), widthPx: mark.widthPx, confidence: dial.sureness[i] as number, multiplicity }
  })
  const marks = doubtSurplus(seen.sort((p, q) => (p.angleDeg ?? 0) - (q.angleDeg ?? 0)), hints.expectedMarks)
  return {
    kind: 'detection',
    rig: 'pointer',
    widthPx: raster.width,
    heightPx: raster.height,
    centrePx,
    centreCovariancePx: covarianceInPhoto(covariance, dial.map, centrePx),
    centreUDeg: rms(byCentre),
    rectifiedBy: rectifiedBy(dial),
    rectificationUDeg: rms(byRectification),
    pixelsPerMm: sized ? likelyPixelsPerMm : null,
    ...frameOf(surface),
    ...(surface.paperMm !== undefined && hints.paperMm === undefined ? { paperTakenMm: surface.paperMm } : {}),
    plane: map,
    marks,
    refused: dial.refused,
    sheet: surface.sheet?.payload ? setupOf(surface.sheet.payload) : null,
    doubts: [...explainCount(marks, hints.expectedMarks), ...oddGaps(marks), ...dialDoubts(dial, { like, pixelsPerMm: likelyPixelsPerMm, sized, bentDeg: rms(byBow), covered: dial.dots === true ? [] : overRing({ raster, map: dial.map }, dial.marks, centre) })],
  }
}
