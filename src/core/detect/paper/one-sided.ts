import type { Point, Raster } from '#core/detect/raster'
import type { PaperEdge } from './edge.ts'

/** Grey levels by which the ground beside a sheet must differ from the sheet. */
const LEAST_STEP = 2
/** Share of the places at which it must. */
const LEAST_SHARE = 0.8
const SAMPLES = 11
const PLACES = 40

/** Median grey along a ray, its first px left out; NaN where hardly any of it is in the picture. */
const band = ({ width, height, grey }: Raster, [x, y]: Point, [dx, dy]: Point, step: number): number => {
  const values: number[] = []
  for (let k = 0; k < SAMPLES; k++) {
    const column = Math.round(x + (3 + k) * step * dx)
    const row = Math.round(y + (3 + k) * step * dy)
    if (column >= 0 && row >= 0 && column < width && row < height) values.push(grey[row * width + column] as number)
  }
  return values.length < 4 ? Number.NaN : (values.sort((a, b) => a - b)[values.length >> 1] as number)
}

/**
 * How much paler, grey levels, what ends along this edge is than what lies beyond, over its length; null where it does not end there:
 * beside a ruled line or a fold there is paper on both sides. The line itself is left out, and medians take no notice of a next one.
 * @param step between the eleven places looked at on either side, from three steps on, px
 */
export const fallAcross = (raster: Raster, { points }: PaperEdge, [ox, oy]: Point, step = Math.max(2, Math.round(Math.max(raster.width, raster.height) / 1200))): number | null => {
  const every = Math.max(1, points.length / PLACES)
  const steps: number[] = []
  for (let i = 0; i < points.length; i += every) {
    const place = points[Math.floor(i)] as Point
    const difference = band(raster, place, [-ox, -oy], step) - band(raster, place, [ox, oy], step)
    if (!Number.isNaN(difference)) steps.push(difference)
  }
  if (steps.length < 5) return null
  const fall = steps.sort((a, b) => a - b)[steps.length >> 1] as number
  return fall >= LEAST_STEP && steps.filter((s) => s > 0).length >= LEAST_SHARE * steps.length ? fall : null
}

/** Does the paper end along this edge? */
export const isOneSided = (raster: Raster, edge: PaperEdge, outward: Point): boolean => fallAcross(raster, edge, outward) !== null
