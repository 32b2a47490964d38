import type { Point, Raster } from '#core/detect/raster'
import { type Ellipse, ellipsePoint, meanAxis } from './ellipse.ts'
import { fitRadii, type RadiiFit } from './fit-radii.ts'
import { targetMm } from './target-shapes.ts'
import { type EdgeSearch, traceEdge } from './trace-edge.ts'

/** A ring measured at full resolution. */
export interface RefinedRing {
  /** The ring's outer edge. */
  readonly outer: Ellipse
  /** Mean of the centres of the edges that were used, px. */
  readonly centre: Point
  /** Mean of the squared radii of those edges, mm²: decides the perspective offset of `centre`. */
  readonly radiusSquaredMm: number
}

const hole = targetMm.inner / targetMm.outer
const dark = (1 + hole) / 2
const outerSearch: EdgeSearch = { dark, light: (targetMm.outer + targetMm.quiet - 0.35) / targetMm.outer }
const innerSearch: EdgeSearch = { dark, light: (targetMm.tickTo + 0.3) / targetMm.outer }

/** Below this semi-axis the blur of the ticks reaches the inner edge and pulls it. */
const innerLeastPx = 22

const reshape = (ellipse: Ellipse, { size, x, y, along, across }: RadiiFit): Ellipse => {
  const [a, b, c, d] = ellipse.axes
  const [p, q, r] = [1 + size + along, across, 1 + size - along]
  return { centre: ellipsePoint(ellipse, x, y), axes: [a * p + b * q, a * q + b * r, c * p + d * q, c * q + d * r] }
}

const largest = ({ size, x, y, along, across }: RadiiFit): number => Math.max(...[size, x, y, along, across].map(Math.abs))

/** Adjusts an ellipse to the ring's outer edge; null when there is no such edge round most of it. */
const fitOuter = (raster: Raster, start: Ellipse, rays: number): Ellipse | null => {
  let ellipse = start
  for (let round = 0; round < 6; round++) {
    const fit = fitRadii(traceEdge(raster, ellipse, rays, outerSearch))
    if (fit === null || fit.spread > 0.06) return null
    ellipse = reshape(ellipse, fit)
    if (largest(fit) < 2e-4) break
  }
  return ellipse
}

/** Measures the ring near a candidate ellipse: its outer edge, and its inner one where that is resolved. */
export const refineTarget = (raster: Raster, candidate: Ellipse): RefinedRing | null => {
  const rays = Math.max(48, Math.min(160, Math.round(5 * meanAxis(candidate))))
  const outer = fitOuter(raster, candidate, rays)
  if (outer === null || !(meanAxis(outer) > 3.5)) return null
  const alone = { outer, centre: outer.centre, radiusSquaredMm: targetMm.outer ** 2 }
  if (meanAxis(outer) < innerLeastPx) return alone
  const inner = fitRadii(traceEdge(raster, outer, rays, innerSearch).map((radius) => radius / hole))
  if (inner === null || inner.spread > 0.06 || largest(inner) > 0.05) return alone
  const [x, y] = ellipsePoint(outer, (inner.x * hole) / 2, (inner.y * hole) / 2)
  return { outer, centre: [x, y], radiusSquaredMm: (targetMm.outer ** 2 + targetMm.inner ** 2) / 2 }
}
