import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { greyAt } from '#core/detect/grey-at'

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

/** Greys along a ray at `steps` + 1 even places from `dark` to `light`; one loop on plain numbers, as it runs a million times. */
const alongRay = ({ width, height, grey }: Raster, { centre, axes }: Ellipse, angle: number, { dark, light, steps }: EdgeSearch & { readonly steps: number }): Float64Array => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const [ux, uy] = [axes[0] * c + axes[1] * s, axes[2] * c + axes[3] * s]
  const values = new Float64Array(steps + 1)
  for (let step = 0; step <= steps; step++) {
    const radius = dark + ((light - dark) * step) / steps
    const x = centre[0] + ux * radius
    const y = centre[1] + uy * radius
    const left = Math.floor(x)
    const top = Math.floor(y)
    if (!(left >= 0 && top >= 0 && left < width - 1 && top < height - 1)) return values.fill(Number.NaN)
    const at = top * width + left
    const upper = (grey[at] as number) + ((grey[at + 1] as number) - (grey[at] as number)) * (x - left)
    const lower = (grey[at + width] as number) + ((grey[at + width + 1] as number) - (grey[at + width] as number)) * (x - left)
    values[step] = upper + (lower - upper) * (y - top)
  }
  return values
}

/** First place, counted in steps, where values pass the level upwards; NaN when they do not. */
const crossing = (values: Float64Array, level: number): number => {
  for (let step = 1; step < values.length; step++) {
    const [before, value] = [values[step - 1] as number, values[step] as number]
    if (before < level && value >= level) return step - (value - level) / (value - before)
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
  const steps = Math.max(6, Math.min(60, Math.ceil((search.light - search.dark) * meanAxis(ellipse) * 1.5)))
  return angles.map((angle, n) => {
    const [low, high] = [dark[n] as number, light[n] as number]
    if (!(high - low >= leastContrast)) return Number.NaN
    const values = alongRay(raster, ellipse, angle, { ...search, steps })
    return search.dark + ((search.light - search.dark) / steps) * crossing(values, (low + high) / 2)
  })
}
