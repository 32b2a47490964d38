import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { bearing, type PlaneMap, toPlane, turnBetween } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { centreLineAt, meanAmplitude } from '#core/detect/stroke/stroke-model'

/** A fitted stroke seen from the centre, in the plane. */
export interface FittedMark {
  readonly fit: StrokeFit
  /** rad, counter-clockwise as seen. */
  readonly bearing: number
  readonly inner: number
  readonly outer: number
  /** rad: direction of the stroke less its bearing. */
  readonly lean: number
  /** Ink width, px of the photo: what blur alone cannot explain. */
  readonly widthPx: number
  /** Darkening over the paper's brightness, mean along the stroke. */
  readonly contrast: number
}

export const fittedMark = (fit: StrokeFit, map: PlaneMap, centre: Point): FittedMark => {
  const a = toPlane(map, centreLineAt(fit.model, -1))
  const b = toPlane(map, centreLineAt(fit.model, 1))
  const ra = Math.hypot(a[0] - centre[0], a[1] - centre[1])
  const rb = Math.hypot(b[0] - centre[0], b[1] - centre[1])
  const [near, far] = ra < rb ? [a, b] : [b, a]
  const towards = bearing(centre, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])
  return {
    fit,
    bearing: towards,
    inner: Math.min(ra, rb),
    outer: Math.max(ra, rb),
    lean: turnBetween(bearing(near, far), towards),
    widthPx: 2 * fit.model.halfWidth,
    contrast: meanAmplitude(fit.model) / Math.max(10, fit.paper),
  }
}
