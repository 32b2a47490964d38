import { bearing, type PlaneMap, toPlane, turnBetween } from '#core/detect/plane-map'
import type { Candidate } from '#core/detect/line/candidate'
import type { Point } from '#core/detect/raster'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { centreLineAt, meanAmplitude } from '#core/detect/stroke/stroke-model'

/** A line from end to end as it is seen from the centre, in the plane of the paper. */
interface SeenFromCentre {
  /** rad, counter-clockwise as seen. */
  readonly bearing: number
  /** Distances of its two ends from the centre, plane units. */
  readonly inner: number
  readonly outer: number
  /** rad: direction of the line outward less its bearing. */
  readonly lean: number
}

const seenFrom = (centre: Point, a: Point, b: Point): SeenFromCentre => {
  const [ra, rb] = [a, b].map((p) => Math.hypot(p[0] - centre[0], p[1] - centre[1])) as [number, number]
  const [near, far] = rb >= ra ? [a, b] : [b, a]
  const towards = bearing(centre, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])
  return { bearing: towards, inner: Math.min(ra, rb), outer: Math.max(ra, rb), lean: turnBetween(bearing(near, far), towards) }
}

/** A candidate seen from the centre. */
export interface Ray extends SeenFromCentre {
  readonly candidate: Candidate
  /** Plane units. */
  readonly width: number
}

export const rayOf = (candidate: Candidate, map: PlaneMap, centre: Point): Ray => {
  const [a, b] = [toPlane(map, candidate.p0), toPlane(map, candidate.p1)]
  return { candidate, ...seenFrom(centre, a, b), width: (candidate.widthPx * Math.hypot(b[0] - a[0], b[1] - a[1])) / candidate.lengthPx }
}

/** A fitted stroke seen from the centre. */
export interface FittedMark extends SeenFromCentre {
  readonly fit: StrokeFit
  /** Ink width, px of the photo: what blur alone cannot explain. */
  readonly widthPx: number
  /** Darkening over the paper's brightness, mean along the stroke. */
  readonly contrast: number
}

export const fittedMark = (fit: StrokeFit, map: PlaneMap, centre: Point): FittedMark => ({
  fit,
  ...seenFrom(centre, toPlane(map, centreLineAt(fit.model, -1)), toPlane(map, centreLineAt(fit.model, 1))),
  widthPx: 2 * fit.model.halfWidth,
  contrast: meanAmplitude(fit.model) / Math.max(10, fit.paper),
})
