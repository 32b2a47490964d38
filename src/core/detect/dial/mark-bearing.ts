import { bearing, jacobianAt, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { lightOf } from '#core/detect/light'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { amplitudeAt, centreLineAt } from '#core/detect/stroke/stroke-model'

const PLACES = 15

/** Light that ink takes away, 0 … 1: grey levels alone would make a faint part of a stroke count for too little. */
const inkDarkness = (amplitude: number, paper: number): number => 1 - lightOf(Math.min(1, 1 - amplitude / Math.max(10, paper)))

/** How far the middle of a stroke's ink may be off: px aside in the photo, and along it as a share of its length. A stroke that leans shows another bearing there. */
export interface MiddleDoubt {
  readonly asidePx: number
  readonly along: number
}

/** A fitted stroke and the brightness of the paper beside it. */
type Inked = Pick<StrokeFit, 'model' | 'paper'>

/**
 * Middle of the stroke's ink in the plane: its centre line, each piece weighted by the light it takes away and by its length on the
 * paper, which a slanting view shortens at the far end.
 */
export const inkCentroid = ({ model, paper }: Inked, map: PlaneMap): Point => {
  const at = (i: number): Point => toPlane(map, centreLineAt(model, (2 * i) / PLACES - 1))
  let [total, x, y] = [0, 0, 0]
  let from = at(0)
  for (let i = 0; i < PLACES; i++) {
    const to = at(i + 1)
    const dark = inkDarkness(amplitudeAt(model.amplitudes, (2 * i + 1) / PLACES - 1), paper) + 1e-9
    const weight = dark * Math.hypot(to[0] - from[0], to[1] - from[1])
    total += weight
    x += (weight * (from[0] + to[0])) / 2
    y += (weight * (from[1] + to[1])) / 2
    from = to
  }
  return [x / total, y / total]
}

/**
 * Bearing of a mark: the direction from the shaft centre to the middle of its ink, deg counter-clockwise as seen, 0 … 360,
 * and the standard uncertainty that the doubt about that middle leaves in it.
 * @param centre in the plane
 */
export const markBearing = (fit: Inked, map: PlaneMap, centre: Point, { asidePx, along }: MiddleDoubt): { readonly angleDeg: number; readonly uDeg: number } => {
  const { model } = fit
  const middle = inkCentroid(fit, map)
  const radius = Math.hypot(middle[0] - centre[0], middle[1] - centre[1])
  const [a, b, c, d] = jacobianAt(map, centreLineAt(model, 0))
  const sx = -model.along[1]
  const sy = model.along[0]
  const moved: Point = [a * sx + b * sy, c * sx + d * sy]
  const aside = Math.abs(moved[0] * (middle[1] - centre[1]) - moved[1] * (middle[0] - centre[0])) / radius
  const [p, q] = [toPlane(map, centreLineAt(model, -1)), toPlane(map, centreLineAt(model, 1))]
  const leaning = Math.abs((q[0] - p[0]) * (middle[1] - centre[1]) - (q[1] - p[1]) * (middle[0] - centre[0])) / radius
  const angle = (bearing(centre, middle) * 180) / Math.PI
  return { angleDeg: angle < 0 ? angle + 360 : angle, uDeg: (Math.hypot(asidePx * aside, along * leaning) / radius) * (180 / Math.PI) }
}
