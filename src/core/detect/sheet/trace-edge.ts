import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { greyAt } from './sample.ts'

/** Where to look for an edge, in units of the ellipse: from certainly dark to certainly light. */
export interface EdgeSearch {
  readonly dark: number
  readonly light: number
}

const smoothed = (values: Float64Array): Float64Array =>
  values.map((_, n) => {
    let sum = 0
    for (let k = -2; k <= 2; k++) sum += values[(n + k + values.length) % values.length] as number
    return sum / 5
  })

const mixed = (raster: Raster, ellipse: Ellipse, radius: number, angle: number): number => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const spread = 0.03
  let sum = 0
  for (let k = -1; k <= 1; k++) sum += greyAt(raster, ellipsePoint(ellipse, (radius + k * spread) * c, (radius + k * spread) * s))
  return sum / 3
}

const leastContrast = 18

/** First place on a ray, from dark to light, where the grey passes the level; NaN when it does not. */
const crossing = (raster: Raster, ellipse: Ellipse, angle: number, search: EdgeSearch & { readonly level: number; readonly steps: number }): number => {
  const { dark, light, level, steps } = search
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  let before = Number.NaN
  for (let step = 0; step <= steps; step++) {
    const radius = dark + ((light - dark) * step) / steps
    const value = greyAt(raster, ellipsePoint(ellipse, radius * c, radius * s))
    if (step > 0 && before < level && value >= level) return radius - ((light - dark) / steps) * ((value - level) / (value - before))
    before = value
  }
  return Number.NaN
}

/**
 * Radius of an edge along evenly spread rays, in units of the ellipse, at half height between the dark and the light
 * beside it; NaN where there is no such edge. Ray n points at the angle 2π·n/rays of the unit circle's frame.
 */
export const traceEdge = (raster: Raster, ellipse: Ellipse, rays: number, search: EdgeSearch): Float64Array => {
  const angles = Float64Array.from({ length: rays }, (_, n) => (2 * Math.PI * n) / rays)
  const dark = smoothed(angles.map((angle) => mixed(raster, ellipse, search.dark, angle)))
  const light = smoothed(angles.map((angle) => mixed(raster, ellipse, search.light, angle)))
  const steps = Math.max(6, Math.min(80, Math.ceil(Math.abs(search.light - search.dark) * meanAxis(ellipse) * 2)))
  return angles.map((angle, n) => {
    const [low, high] = [dark[n] as number, light[n] as number]
    if (!(high - low >= leastContrast)) return Number.NaN
    return crossing(raster, ellipse, angle, { ...search, level: (low + high) / 2, steps })
  })
}
