import { doubtIn, type MarksSeen, UNKNOWN_TILT_DEG } from '#core/detect/bearing-doubts'
import { glanceFactor, logPlane, smoothPlane, workingFactor } from '#core/detect/plane'
import { type PlaneMap, planeMap, radialAbout, straighten } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Surface } from '#core/detect/surface'
import { lnFocalsAbout, RADIAL_SPREAD } from '#core/detect/lens'
import { circleHomography } from '#core/numeric/circle-homography'
import type { EllipseShape } from '#core/numeric/ellipse'
import { fitEllipse, type FittedEllipse } from '#core/numeric/fit-ellipse'
import { symmetricEigen } from '#core/numeric/symmetric-eigen'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { chooseCurves, type ChosenCurve } from './choose-curve.ts'
import { imagedCentres } from './imaged-centre.ts'
import { type Curve, linkCurves, type Shows } from './link-curves.ts'
import { placeCurve } from './place-curve.ts'
import { type CurveKind, polarFeatures, rayAngle } from './polar-features.ts'
import { robustSpread } from '#core/numeric/median'
import { rms } from '#core/numeric/moments'

/** Least part of the turn that a circle must show to be believed. */
const LEAST_SHARE = 0.3
/** Radii, in units of the marks' inner and outer ones, between which a circle is looked for. */
const NEAR = 0.45
const FAR = 1.45
/** How truly a circle is drawn or printed: amplitude of its ovalness over its radius, 0.04 mm at 80 mm (common practice, no source). */
const OVAL = 0.0005
/** The same of a rim: seen against its own shadow, and not quite in the marks' plane (common practice, no source). */
const RIM_OVAL = 0.003
/** What that leaves in an angle at the least, deg: no circle tells more than this. */
export const LEAST_DOUBT = (OVAL * 180) / Math.PI
/** How far the circle's own centre may be from the shaft, as a share of its radius (common practice, no source). */
const OFF_CENTRE = 0.02
/** Focal lengths that are tried, in spreads about the usual one. */
const FOCALS = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2]
/** A fitted curve that scatters more than this about its ellipse is none, px and share of its radius. */
const ROUGH_PX = 1.2
const ROUGH = 0.0025

const distanceTo = ({ p0, p1 }: MarksSeen['strokes'][number], [x, y]: Point): number => {
  const [dx, dy] = [p1[0] - p0[0], p1[1] - p0[1]]
  const t = Math.max(0, Math.min(1, ((x - p0[0]) * dx + (y - p0[1]) * dy) / (dx * dx + dy * dy || 1)))
  return Math.hypot(x - p0[0] - t * dx, y - p0[1] - t * dy)
}

/** Away from every mark, where only the curve itself can show. */
const bareOf = ({ strokes }: MarksSeen, margin: number): ((px: Point) => boolean) => {
  const covers = strokes.map((stroke) => {
    const { p0, p1, widthPx } = stroke
    const reach = widthPx / 2 + margin
    return { stroke, reach, x: (p0[0] + p1[0]) / 2, y: (p0[1] + p1[1]) / 2, far: (Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) / 2 + reach) ** 2 }
  })
  return (px) => covers.every(({ stroke, reach, x, y, far }) => (px[0] - x) ** 2 + (px[1] - y) ** 2 > far || distanceTo(stroke, px) > reach)
}

const polarPoint = ([cx, cy]: Point, ray: number, radius: number): Point => [cx + radius * Math.cos(rayAngle(ray)), cy + radius * Math.sin(rayAngle(ray))]

/** Variance of the distances' means over a twenty-fourth of the turn each, over what independent places would give; at least 1. */
const clumping = ({ distances, centre }: FittedEllipse, points: readonly Point[], scatter: number): number => {
  const sectors = new Map<number, number[]>()
  points.forEach(([x, y], i) => {
    const d = distances[i] as number
    if (Math.abs(d) > 4.7 * scatter) return
    const key = Math.floor((12 * Math.atan2(y - centre[1], x - centre[0])) / Math.PI)
    sectors.set(key, [...(sectors.get(key) ?? []), d])
  })
  const groups = [...sectors.values()].filter((g) => g.length > 2)
  const excess = groups.reduce((sum, g) => sum + g.reduce((s, d) => s + d, 0) ** 2 / g.length, 0) / Math.max(1, groups.length - 5)
  return Math.max(1, excess / scatter ** 2)
}

/** Size of the distances' third and fourth waves per turn, px: an ellipse leaves none, so what they have the second may have too. */
const slowWaves = ({ distances, centre }: FittedEllipse, points: readonly Point[], scatter: number): number => {
  const kept = points.flatMap(([x, y], i) => (Math.abs(distances[i] as number) > 4.7 * scatter ? [] : [[Math.atan2(y - centre[1], x - centre[0]), distances[i] as number] as const]))
  const sizes = [3, 4].flatMap((n) => [Math.cos, Math.sin].map((wave) => (2 * kept.reduce((sum, [t, d]) => sum + d * wave(n * t), 0)) / kept.length))
  return rms(sizes)
}

interface Seen {
  readonly slow: number
  readonly kind: CurveKind
  readonly points: readonly Point[]
  readonly fit: FittedEllipse
  /** By which the covariance grows because neighbouring places err alike. */
  readonly clump: number
}

/** The chosen curve placed finely in the photo and fitted; null when it is not smooth or does not look like an ellipse. */
const look = (raster: Raster, { kind, features }: ChosenCurve, { centrePx, ...marks }: MarksSeen, bare: (px: Point) => boolean): Seen | null => {
  const rough = fitEllipse(features.map((f) => polarPoint(centrePx, f.ray, f.radius)), { robust: true })
  if (isUnmeasurable(rough) || marks.strokes.length === 0) return null
  const shown = new Set(features.flatMap((f) => [f.ray - 1, f.ray, f.ray + 1].map((r) => (r + 720) % 720)))
  const factor = workingFactor(raster)
  const places = placeCurve(raster, rough, kind, { reach: 3 + 2.5 * factor, count: 720 }).filter((p) => {
    const ray = Math.round((Math.atan2(p[1] - centrePx[1], p[0] - centrePx[0]) / (2 * Math.PI)) * 720)
    return bare(p) && shown.has((ray + 720) % 720)
  })
  const fit = fitEllipse(places, { robust: true, start: rough })
  if (isUnmeasurable(fit)) return null
  const scatter = robustSpread(fit.distances)
  if (scatter > Math.min(ROUGH_PX * factor, ROUGH * fit.major + 0.5)) return null
  return { kind, points: places, fit, clump: clumping(fit, places, scatter), slow: slowWaves(fit, places, scatter) }
}

/** How far the marks' centre is from where such a camera would image the circle's own, px. */
const offCentre = (ellipse: EllipseShape, raster: Raster, [cx, cy]: Point): number => {
  const { width, height } = raster
  const focals = lnFocalsAbout(raster, FOCALS).map((ln) => Math.exp(ln) * Math.max(width, height))
  return Math.min(...focals.flatMap((f) => imagedCentres(ellipse, f, [(width - 1) / 2, (height - 1) / 2])).map(([x, y]) => Math.hypot(x - cx, y - cy)))
}

/** The maps one standard deviation away in each independent direction: the ellipse's own, its ovalness, the centre's, the lens's. */
const others = (raster: Raster, { kind, fit, clump, points, slow }: Seen, { centrePx, uCentrePx }: MarksSeen): PlaneMap[] => {
  const own = [...fit.centre, ...fit.shape]
  const radius = Math.sqrt(fit.major * fit.minor)
  const along = symmetricEigen(fit.covariance).map(({ value, vector }) => vector.map((v) => v * Math.sqrt(Math.max(0, value) * clump)))
  const out = Math.hypot((kind === 'line' ? OVAL : RIM_OVAL) * radius, slow)
  const oval = [[0, 0, out, 0, -out], [0, 0, 0, out, 0]]
  const ellipses = [...along, ...oval].map((step) => own.map((v, i) => v + (step[i] as number))).map(([x, y, a, b, c]): EllipseShape => ({ centre: [x as number, y as number], shape: [a as number, b as number, c as number] }))
  const centres = ([[uCentrePx, 0], [0, uCentrePx]] as const).map(([dx, dy]): Point => [centrePx[0] + dx, centrePx[1] + dy])
  const radial = radialAbout(raster.width, raster.height, RADIAL_SPREAD)
  const bent = fitEllipse(points.map((p) => straighten(radial, p)), { robust: true, start: fit })
  const lens = isUnmeasurable(bent) ? null : circleHomography(bent, straighten(radial, centrePx))
  const maps = [...ellipses.map((e) => circleHomography(e, centrePx)), ...centres.map((c) => circleHomography(fit, c))]
  return [...maps.flatMap((m) => (m === null ? [] : [planeMap(m)])), ...(lens === null ? [] : [planeMap(lens, radial)])]
}

/** Do most places of one curve lie among another's? Then it is a second, worse reading of the same line. */
const sameLine = (one: Seen, other: Seen): boolean => {
  const near = (2 * Math.PI * other.fit.major) / 720
  return one.points.filter(([x, y]) => other.points.some(([a, b]) => Math.hypot(a - x, b - y) < near)).length > one.points.length / 2
}

/** A circle's map is used when it leaves less than this in the marks' angles, deg rms. */
const MOST_DOUBT = 0.25
/** And when it differs from what the paper tells by no more than this many times what both leave. */
const MOST_DIFFERENT = 4

interface Told {
  readonly map: PlaneMap
  readonly alternatives: readonly PlaneMap[]
  /** What it leaves in the marks' angles, deg rms. */
  readonly doubt: number
}

/** The map that one circle tells; null where it is none about the shaft, or another reading of one that was read. */
const toldBy = (raster: Raster, chosen: ChosenCurve, { marks, bare, read }: { readonly marks: MarksSeen; readonly bare: (px: Point) => boolean; readonly read: Seen[] }): Told | null => {
  const { centrePx, uCentrePx } = marks
  const seen = look(raster, chosen, marks, bare)
  const homography = seen === null ? null : circleHomography(seen.fit, centrePx)
  if (seen === null || homography === null || read.some((other) => sameLine(seen, other))) return null
  read.push(seen)
  if (offCentre(seen.fit, raster, centrePx) > OFF_CENTRE * seen.fit.major + 3 * uCentrePx) return null
  const [map, alternatives] = [planeMap(homography), others(raster, seen, marks)]
  return { map, alternatives, doubt: doubtIn(marks, { map, alternatives }) }
}

/** Every curve that runs round the centre where no mark hides it, at a glance: curves are placed in the photo itself afterwards. */
const curvesAbout = (raster: Raster, centrePx: Point, ring: readonly [number, number], shows: Shows): { readonly curves: readonly Curve[]; readonly factor: number } => {
  const factor = glanceFactor(raster)
  const features = polarFeatures(smoothPlane(logPlane(raster, factor), 1), centrePx, [NEAR * ring[0], FAR * ring[1]], ring)
  return { curves: linkCurves(features.map((ray) => ray.filter((f) => shows(f.ray, f.radius))), { slack: 1.5 * factor, shows }), factor }
}

/**
 * The surface as a circle about the shaft tells it (drawn with compasses, printed, or a dial's rim), seen as an ellipse: the ellipse and
 * the image of its centre, where the marks aim, give the perspective. Of several circles the one that leaves least doubt in the marks'
 * angles, steps in brightness only where no line tells it.
 * @param usable whether a place (px) is on the paper and not to be ignored
 * @returns null when no such circle shows on enough of the turn, or none could be concentric with the marks for any usual camera
 */
export const circleSurface = (raster: Raster, marks: MarksSeen, surface: Surface, usable: (px: Point) => boolean): Surface | null => {
  const { centrePx, strokes } = marks
  const radii = strokes.flatMap(({ p0, p1 }) => [p0, p1].map((p) => Math.hypot(p[0] - centrePx[0], p[1] - centrePx[1]))).sort((a, b) => a - b)
  if (radii.length < 4) return null
  const bare = bareOf(marks, 1.5 + workingFactor(raster))
  const { curves, factor } = curvesAbout(raster, centrePx, [radii[0] as number, radii.at(-1) as number], (ray, radius) => {
    const place = polarPoint(centrePx, ray, radius)
    return bare(place) && usable(place)
  })
  const ofPaper = surface.by === 'none' ? UNKNOWN_TILT_DEG : doubtIn(marks, surface)
  const known = Math.min(MOST_DOUBT, ofPaper)
  const agrees = ({ map, doubt }: Told): boolean => doubtIn(marks, { map, alternatives: [surface.map] }) < MOST_DIFFERENT * Math.hypot(doubt, ofPaper)
  const read: Seen[] = []
  let best: Told | null = null
  for (const kind of ['line', 'fall', 'rise'] as const) {
    if (best !== null) break
    for (const chosen of chooseCurves(curves, kind, factor).filter(({ share }) => share >= LEAST_SHARE)) {
      if (kind !== 'line' && best !== null) break
      const told = toldBy(raster, chosen, { marks, bare, read })
      if (told !== null && told.doubt < (best?.doubt ?? known) && agrees(told)) best = told
    }
  }
  if (best === null) return null
  return { ...surface, by: 'circle', map: best.map, alternatives: best.alternatives, loose: true, metric: false, doubts: [] }
}
