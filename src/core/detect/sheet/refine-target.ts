import type { Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { fitRadii, type RadiiFit } from './fit-radii.ts'
import { targetMm } from './target-places.ts'
import { type EdgeSearch, traceEdge } from './trace-edge.ts'

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
    const fit = fitRadii(traceEdge(raster, ellipse, rays, search))
    if (fit === null || fit.spread > greatestSpread) return null
    ellipse = reshape(ellipse, fit)
    if (largest(fit) < 3e-4) break
  }
  return meanAxis(ellipse) > leastAxisPx ? ellipse : null
}
