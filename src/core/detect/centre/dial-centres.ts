import { median } from '#core/numeric/median'
import { type RoundRim, roundThings } from '#core/detect/round/centre-shaft'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import type { Candidate } from '#core/detect/line/candidate'
import { centreArc, centreCross } from './drawn-centre.ts'
import { centreEnds } from './centre-ends.ts'
import type { CentreEstimate } from './centre-estimate.ts'
import { centreFromStrokes, type StrokeLine } from './centre-from-strokes.ts'
import type { NamedCentre } from './combine-centres.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { FittedMark } from './seen-from-centre.ts'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { isOpen, type Surface } from '#core/detect/surface'
import { POINTED } from './pointed.ts'
import { focalPx, USUAL_TILT } from '#core/detect/lens'
import { mean } from '#core/numeric/moments'

const lineOf = (fit: StrokeFit, map: PlaneMap): StrokeLine => {
  const a = toPlane(map, centreLineAt(fit.model, -0.9))
  const b = toPlane(map, centreLineAt(fit.model, 0.9))
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  // The slope of a line through evenly spread places is √12 times less certain, over its length, than their mean.
  const uAlong = (Math.sqrt(12 * Math.max(1, fit.clumping)) * fit.uOffset) / (2 * fit.model.halfLength)
  return { middle: toPlane(map, centreLineAt(fit.model, 0)), along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length] as const, length, uAlong }
}

/** Mean distance of the marks' middles from the centre, plane units. */
export const radiusOf = (marks: readonly FittedMark[]): number => mean(marks.map((m) => (m.inner + m.outer) / 2))

/** How closely a shaft is set to the printed hairs, mm (common practice, no source). */
const SET_MM = 0.1
/** Where no paper gives the scale, marks are taken to be so far from the shaft, mm: about the middle of what pointers are, from 25 to 100 (common practice, no source). */
const USUAL_RADIUS_MM = 50

/** The printed centre: as well as the targets place it and the shaft was set to it. */
const sheetCentre = (fix: SheetFix, map: PlaneMap): NamedCentre => {
  const [xx, , yy] = fix.centreCovariancePx
  const variance = SET_MM ** 2 + (xx + yy) / 2 / fix.pixelsPerMm ** 2
  return { from: 'sheet', centre: toPlane(map, fix.centrePx), covariance: [variance, 0, variance] }
}

/** What the centre is looked for in. */
export interface Scene {
  readonly raster: Raster
  readonly candidates: readonly Candidate[]
  readonly map: PlaneMap
  readonly surface: Surface
}

const named = (from: NamedCentre['from'], estimate: Omit<NamedCentre, 'from'> | null): NamedCentre[] => (estimate === null ? [] : [{ from, ...estimate }])

/** What a person or the printed sheet says. */
export const toldCentres = ({ map, surface: { sheet } }: Scene, radius: number, given: Point | undefined): NamedCentre[] => {
  const variance = (POINTED * radius) ** 2
  const pointed = given === undefined ? null : ({ centre: toPlane(map, given), covariance: [variance, 0, variance] } as const)
  return [...named('given', pointed), ...(sheet === null ? [] : [sheetCentre(sheet, map)])]
}

/** What a lens and a slanting view that were not taken out do to where lines meet, as a share of the marks' radius (common practice, no source). */
export const BENT = 0.003

const widened = ([xx, xy, yy]: CentreEstimate['covariance'], u: number): CentreEstimate['covariance'] => [xx + u * u, xy, yy + u * u]

/** Where the lines of the strokes meet, and the circle that their ends lie on where the plane shows one as a circle. */
const strokesSay = (marks: readonly FittedMark[], { map, surface }: Scene, near: Point): NamedCentre[] => {
  const strokes = centreFromStrokes(marks.map((m) => lineOf(m.fit, map)), near)
  if (strokes === null) return []
  if (isOpen(surface)) return named('strokes', { ...strokes, covariance: widened(strokes.covariance, BENT * radiusOf(marks)) })
  const ends = [...marks].sort((a, b) => a.bearing - b.bearing).map((m) => ({ bearing: [Math.cos(m.bearing), -Math.sin(m.bearing)] as const, inner: m.inner, outer: m.outer }))
  return [...named('strokes', strokes), ...named('ends', centreEnds(ends, near))]
}

/**
 * The centre that is told and the strokes show, before anything else is looked for in the photo.
 * @param near the centre about which the marks were described
 */
export const roughCentres = (scene: Scene, marks: readonly FittedMark[], near: Point, given: Point | undefined): NamedCentre[] =>
  [...toldCentres(scene, radiusOf(marks), given), ...strokesSay(marks, scene, near)]

/** How far a circle's image has its middle from the image of the circle's own: radius² · tan(tilt) / focal length, px, to first order. */
const seenAslant = (radius: number, raster: Raster): number => (USUAL_TILT * radius * radius) / focalPx(raster)

/**
 * What else shows in the photo where the shaft is: a cross, a hole, the shaft itself, a compass arc.
 * @param rough where the strokes show it
 */
export const centresSeen = ({ raster, candidates, map, surface }: Scene, marks: readonly FittedMark[], { centre: near, covariance: [xx, , yy] }: CentreEstimate): NamedCentre[] => {
  // What is round or crosses on a printed sheet is its own print, and known.
  if (surface.sheet !== null) return []
  const radius = radiusOf(marks)
  const perMm = surface.metric ? 1 : radius / USUAL_RADIUS_MM
  const where = { near, reach: Math.min(0.25 * radius, Math.max(0.06 * radius, 3 * Math.sqrt(xx + yy))), radius, perMm }
  const round = roundThings(raster, map, { ...where, rectified: surface.by !== 'none', paper: median(marks.map((m) => m.fit.paper)) })
  // A map made from the circle has it about the marks' centre by construction.
  const drawnArc = surface.by === 'circle' ? null : centreArc(candidates, map, where)
  const arc = drawnArc !== null && surface.by === 'none' ? withCovariances(drawnArc, (one) => widened(one, seenAslant(radius, raster))) : drawnArc
  const found = centreCross(raster, candidates, map, where)
  // Short straight pieces of a rim cross, too.
  const cross = found === null || round.rims.some((rim) => liesOn(rim, found.centre)) ? null : found
  // Compasses are set on the cross: both are as far off the shaft as it is, and together tell no more than one of them.
  const drawn = [...named('cross', cross), ...named('arc', arc)]
  // A hole is cut about the shaft, or is the hub's own rim: it tells nothing more than a shaft that is seen.
  const turned = round.shaft === null ? named('hole', round.hole) : named('shaft', round.shaft)
  return [...drawn.map((one) => withCovariances(one, (covariance) => scaled(covariance, drawn.length))), ...turned]
}

/** Well off the middle of something round, and on it or close by. */
const liesOn = ({ centre, radius }: RoundRim, [x, y]: Point): boolean => {
  const away = Math.hypot(x - centre[0], y - centre[1])
  return away > 0.4 * radius && away < 1.5 * radius
}

/** Every covariance that it may have changed alike. */
const withCovariances = <T extends Omit<NamedCentre, 'from'>>(one: T, change: (covariance: CentreEstimate['covariance']) => CentreEstimate['covariance']): T => ({
  ...one,
  covariance: change(one.covariance),
  otherwise: (one.otherwise ?? []).map((other) => ({ ...other, covariance: change(other.covariance) })),
})

const scaled = ([xx, xy, yy]: CentreEstimate['covariance'], factor: number): CentreEstimate['covariance'] => [factor * xx, factor * xy, factor * yy]
