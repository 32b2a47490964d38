import { fitCircle } from '#core/numeric/fit-circle'
import type { CentreEstimate } from './centre-from-strokes.ts'
import { type PlaneMap, toPhoto } from './plane-map.ts'
import type { Point, Raster } from './raster.ts'

/** How truly a hole is cut about a shaft, as a share of the marks' radius: 0.25 mm at 80 mm (common practice, no source). */
const CUT = 0.0031
const RAYS = 72
/** A hole's radius as a share of the marks' radius. */
const SIZES = [0.008, 0.12] as const

const greyAt = ({ width, height, grey }: Raster, [x, y]: Point): number => {
  const column = Math.min(width - 1, Math.max(0, Math.round(x)))
  const row = Math.min(height - 1, Math.max(0, Math.round(y)))
  return grey[row * width + column] as number
}

/** Middle of the dark patch nearest to `near`, on a grid over the plane; null when nothing there is dark. */
const darkMiddle = (raster: Raster, map: PlaneMap, near: Point, reach: number): { readonly middle: Point; readonly level: number } | null => {
  const half = 40
  const values: { readonly p: Point; readonly value: number }[] = []
  for (let j = -half; j <= half; j++) {
    for (let i = -half; i <= half; i++) {
      const p: Point = [near[0] + (i * reach) / half, near[1] + (j * reach) / half]
      values.push({ p, value: greyAt(raster, toPhoto(map, p)) })
    }
  }
  const sorted = values.map((v) => v.value).sort((a, b) => a - b)
  const paper = sorted[Math.floor(0.85 * sorted.length)] as number
  const level = 0.62 * paper
  const dark = values.filter((v) => v.value < level)
  if (dark.length < 12 || dark.length > 0.35 * values.length) return null
  const mean = (get: (p: Point) => number): number => dark.reduce((sum, v) => sum + get(v.p), 0) / dark.length
  return { middle: [mean((p) => p[0]), mean((p) => p[1])], level }
}

/** Outermost place along a ray where dark turns to paper, plane units from the middle; null when the ray stays pale or never ends. */
const rim = (raster: Raster, map: PlaneMap, [middle, angle]: readonly [Point, number], { limit, level }: { readonly limit: number; readonly level: number }): Point | null => {
  const steps = 160
  const at = (k: number): Point => [middle[0] + ((k * limit) / steps) * Math.cos(angle), middle[1] + ((k * limit) / steps) * Math.sin(angle)]
  let last = -1
  let pale = 0
  for (let k = 0; k <= steps && pale < steps / 6; k++) {
    if (greyAt(raster, toPhoto(map, at(k))) < level) {
      last = k
      pale = 0
    } else if (last >= 0) pale++
  }
  return last <= 0 || last > steps - 4 ? null : at(last + 0.5)
}

/**
 * Centre of a round dark hole (the shaft's, cut through the paper) near where the strokes aim; null when there is none that is round.
 * @param reach how far from `near` (plane) its middle may lie
 * @param radius the marks' radius, plane units
 */
export const centreHole = (raster: Raster, map: PlaneMap, { near, reach, radius }: { readonly near: Point; readonly reach: number; readonly radius: number }): CentreEstimate | null => {
  const found = darkMiddle(raster, map, near, reach + SIZES[1] * radius)
  if (found === null) return null
  let points = Array.from({ length: RAYS }, (_, i) => rim(raster, map, [found.middle, (2 * Math.PI * i) / RAYS], { limit: 0.3 * radius, level: found.level })).flatMap((p) => (p === null ? [] : [p]))
  if (points.length < 0.7 * RAYS) return null
  let circle = fitCircle(points)
  for (let round = 0; round < 2 && circle !== null; round++) {
    const { centre, radius: r } = circle
    const off = points.map((p) => Math.abs(Math.hypot(p[0] - centre[0], p[1] - centre[1]) - r))
    const limit = Math.max(0.03 * r, 3 * ([...off].sort((a, b) => a - b)[off.length >> 1] ?? 0))
    points = points.filter((_, i) => (off[i] as number) < limit)
    circle = points.length < 0.6 * RAYS ? null : fitCircle(points)
  }
  if (circle === null || circle.radius < SIZES[0] * radius || circle.radius > SIZES[1] * radius) return null
  const spread = circle.residualNorm / Math.sqrt(points.length)
  const { centre } = circle
  if (spread > 0.06 * circle.radius + 0.002 * radius || Math.hypot(centre[0] - near[0], centre[1] - near[1]) > reach) return null
  const variance = (CUT * radius) ** 2 + (2 * spread ** 2) / (points.length / 6)
  return { centre, covariance: [variance, 0, variance] }
}
