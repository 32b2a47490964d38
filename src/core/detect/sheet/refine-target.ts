import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { targetMm } from './target-places.ts'
import { greyAt } from '#core/detect/grey-at'
import { median, robustSpread } from '#core/numeric/median'
import { solveNormal, twoWaves } from '#core/numeric/normal-equations'

/** Where to look for an edge, in units of the ellipse: from certainly dark to certainly light. */
interface EdgeSearch {
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
const traceRim = (raster: Raster, ellipse: Ellipse, rays: number, search: EdgeSearch): Float64Array => {
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

/** r(t) = 1 + size + x·cos t + y·sin t + along·cos 2t + across·sin 2t: how far traced radii are from a circle of radius 1. */
interface RadiiFit {
  readonly size: number
  readonly x: number
  readonly y: number
  readonly along: number
  readonly across: number
  /** Robust standard deviation of the radii about the fit. */
  readonly spread: number
  /** Part of the rays that agree with the fit. */
  readonly share: number
}

/** Part of the rays that must agree. */
const LEAST_SHARE = 0.6

/**
 * Least squares over the rays that have a radius, those far from the rest weighted down (Tukey's biweight, 4.7 robust
 * deviations). Null when too few agree.
 */
const fitRadii = (radii: Float64Array): RadiiFit | null => {
  const known = Array.from(radii).filter((r) => !Number.isNaN(r))
  if (known.length < LEAST_SHARE * radii.length) return null
  const basis = Array.from(radii, (_, n) => twoWaves((2 * Math.PI * n) / radii.length))
  const middle = median(known)
  // Rays without a radius have no weight.
  const off = radii.map((r) => r - 1)
  let weights = radii.map((r) => (Math.abs(r - middle) < 0.12 ? 1 : 0))
  let solution: readonly number[] | null = null
  let spread = 0
  for (let round = 0; round < 4; round++) {
    solution = solveNormal(basis, off, weights)
    if (solution === null) return null
    const found = solution
    const misses = radii.map((r, n) => r - 1 - (basis[n] as readonly number[]).reduce((sum, term, i) => sum + term * (found[i] as number), 0))
    spread = robustSpread(misses.filter((miss) => !Number.isNaN(miss)))
    const reach = 4.7 * Math.max(spread, 1e-3)
    weights = misses.map((miss) => (Math.abs(miss) < reach ? (1 - (miss / reach) ** 2) ** 2 : 0))
  }
  const share = weights.filter((weight) => weight > 0.3).length / radii.length
  if (solution === null || share < LEAST_SHARE) return null
  const [size = 0, x = 0, y = 0, along = 0, across = 0] = solution
  return { size, x, y, along, across, spread, share }
}

/** Only the outer edge is measured: the ticks' blur would pull the inner one, each identity its own way. */
const search: EdgeSearch = {
  dark: (targetMm.inner + targetMm.outer) / (2 * targetMm.outer),
  light: (targetMm.outer + targetMm.quiet - 0.35) / targetMm.outer,
}

const greatestSpread = 0.06
const leastAxisPx = 3.5

const reshape = (ellipse: Ellipse, { size, x, y, along, across }: RadiiFit): Ellipse => {
  const [a, b, c, d] = ellipse.axes
  const [p, q, r] = [1 + size + along, across, 1 + size - along]
  return { centre: ellipsePoint(ellipse, x, y), axes: [a * p + b * q, a * q + b * r, c * p + d * q, c * q + d * r] }
}

const largest = ({ size, x, y, along, across }: RadiiFit): number => Math.max(...[size, x, y, along, across].map(Math.abs))

/** Adjusts a candidate ellipse to the outer edge of a dark ring at full resolution; null when there is no such edge round most of it. */
export const refineTarget = (raster: Raster, candidate: Ellipse): Ellipse | null => {
  const rays = Math.max(48, Math.min(96, Math.round(5 * meanAxis(candidate))))
  let ellipse = candidate
  for (let round = 0; round < 6; round++) {
    const fit = fitRadii(traceRim(raster, ellipse, rays, search))
    if (fit === null || fit.spread > greatestSpread) return null
    ellipse = reshape(ellipse, fit)
    if (largest(fit) < 3e-4) break
  }
  return meanAxis(ellipse) > leastAxisPx ? ellipse : null
}
