import { fitCircle } from '#core/numeric/fit-circle'
import type { Candidate } from '#core/detect/line/candidate'
import type { CentreEstimate } from './centre-estimate.ts'
import type { Otherwise } from './combine-centres.ts'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { refineMarks } from '#core/detect/stroke/refine-marks'
import { centreLineAt } from '#core/detect/stroke/stroke-model'

/** How truly a cross is drawn, or a compass set, on the shaft's place, mm; and in so many of the photos no better than this (common practice, no source). */
const DRAWN_MM = 0.15
const ROUGHLY = { drawnMm: 0.6, chance: 0.3 } as const
/** Least part of the circle that fixes a centre, rad. */
const LEAST_SPAN = 0.9

/** A centre that a hand set, with care or without. */
export interface DrawnCentre extends CentreEstimate {
  readonly otherwise: readonly Otherwise[]
}

/** @param seen covariance of the place as it is seen */
const drawnAt = (centre: Point, [xx, xy, yy]: CentreEstimate['covariance'], perMm: number): DrawnCentre => {
  const set = (mm: number): CentreEstimate['covariance'] => [xx + (mm * perMm) ** 2, xy, yy + (mm * perMm) ** 2]
  return { centre, covariance: set(DRAWN_MM), otherwise: [{ covariance: set(ROUGHLY.drawnMm), chance: ROUGHLY.chance }] }
}

interface Piece {
  readonly point: Point
  readonly angle: number
  readonly radius: number
}

/** Middles and ends of the lines that run round the centre rather than towards it. */
const tangential = (candidates: readonly Candidate[], map: PlaneMap, near: Point): Piece[] =>
  candidates.flatMap((c) => {
    const [a, b] = [toPlane(map, c.p0), toPlane(map, c.p1)]
    const m: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
    const r: Point = [m[0] - near[0], m[1] - near[1]]
    const radius = Math.hypot(r[0], r[1])
    const length = Math.hypot(b[0] - a[0], b[1] - a[1])
    const lean = Math.abs(((b[0] - a[0]) * r[0] + (b[1] - a[1]) * r[1]) / (length * radius))
    if (lean > 0.12 || length > 0.5 * radius) return []
    return [a, b].map((p): Piece => ({ point: p, angle: Math.atan2(p[1] - near[1], p[0] - near[0]), radius: Math.hypot(p[0] - near[0], p[1] - near[1]) }))
  })

/** Largest set of pieces at one radius, by how many tenths of a radian of direction they fill. */
const ringOf = (pieces: readonly Piece[], tolerance: number): Piece[] => {
  let best: Piece[] = []
  let most = 0
  for (const { radius } of pieces) {
    const near = pieces.filter((p) => Math.abs(p.radius - radius) < tolerance * radius)
    const filled = new Set(near.map((p) => Math.round(p.angle * 10))).size
    if (filled > most) {
      most = filled
      best = near
    }
  }
  return most / 10 >= LEAST_SPAN ? best : []
}

/** Centre of a compass arc drawn about the shaft, from the short straight pieces it was seen as; null when there is none. */
export const centreArc = (candidates: readonly Candidate[], map: PlaneMap, { near, perMm }: { readonly near: Point; readonly perMm: number }): DrawnCentre | null => {
  let ring = ringOf(tangential(candidates, map, near), 0.03)
  let circle = ring.length >= 8 ? fitCircle(ring.map((p) => p.point)) : null
  for (let round = 0; round < 3 && circle !== null; round++) {
    const { centre, radius: r } = circle
    const off = ring.map((p) => Math.abs(Math.hypot(p.point[0] - centre[0], p.point[1] - centre[1]) - r))
    const limit = Math.max(2e-4 * r, 3.5 * ([...off].sort((a, b) => a - b)[off.length >> 1] ?? 0))
    ring = ring.filter((_, i) => (off[i] as number) < limit)
    circle = ring.length >= 8 ? fitCircle(ring.map((p) => p.point)) : null
  }
  if (circle === null || circle.covariance === null) return null
  if (new Set(ring.map((p) => Math.round(p.angle * 10))).size / 10 < LEAST_SPAN) return null
  const [row0, row1] = circle.covariance
  // Two ends of one piece are not independent.
  return drawnAt(circle.centre, [2 * (row0?.[0] as number), 2 * (row0?.[1] as number), 2 * (row1?.[1] as number)], perMm)
}

const crossing = (a: StrokeFit, b: StrokeFit): Point => {
  const [px, py] = centreLineAt(a.model, 0)
  const [qx, qy] = centreLineAt(b.model, 0)
  const direction = ({ model }: StrokeFit): Point => {
    const [x0, y0] = centreLineAt(model, -0.7)
    const [x1, y1] = centreLineAt(model, 0.7)
    return [x1 - x0, y1 - y0]
  }
  const [ux, uy] = direction(a)
  const [vx, vy] = direction(b)
  const t = ((qx - px) * vy - (qy - py) * vx) / (ux * vy - uy * vx)
  return [px + t * ux, py + t * uy]
}

/**
 * The crossing of two short drawn lines near the centre: each passes close by it, they cross at 40° or more near their middles.
 * @param reach how far from `near` (plane) it may lie
 * @param radius the marks' radius, plane units
 */
export const centreCross = (raster: Raster, candidates: readonly Candidate[], map: PlaneMap, { near, reach, radius, perMm }: { readonly near: Point; readonly reach: number; readonly radius: number; readonly perMm: number }): DrawnCentre | null => {
  const lines = candidates.filter((c) => {
    const [a, b, m] = [c.p0, c.p1, c.middle].map((p) => toPlane(map, p)) as [Point, Point, Point]
    const length = Math.hypot(a[0] - b[0], a[1] - b[1])
    const aside = Math.abs((near[0] - a[0]) * (b[1] - a[1]) - (near[1] - a[1]) * (b[0] - a[0])) / (length || 1)
    return length < 0.6 * radius && aside < reach && Math.hypot(m[0] - near[0], m[1] - near[1]) < reach + 0.5 * length
  })
  let best: { readonly a: Candidate; readonly b: Candidate; readonly worth: number } | null = null
  for (const a of lines) {
    for (const b of lines) {
      const sine = Math.abs(a.along[0] * b.along[1] - a.along[1] * b.along[0])
      const apart = Math.hypot(a.middle[0] - b.middle[0], a.middle[1] - b.middle[1])
      if (a === b || sine < 0.64 || apart > 0.3 * Math.max(a.lengthPx, b.lengthPx) + 2) continue
      const worth = Math.min(a.lengthPx, b.lengthPx) * Math.min(a.depth, b.depth)
      if (best === null || worth > best.worth) best = { a, b, worth }
    }
  }
  if (best === null) return null
  const [first, second] = refineMarks(raster, [best.a, best.b])
  if (first === undefined || first === null || second === undefined || second === null) return null
  const centre = toPlane(map, crossing(first, second))
  if (Math.hypot(centre[0] - near[0], centre[1] - near[1]) > reach) return null
  return drawnAt(centre, [0, 0, 0], perMm)
}
