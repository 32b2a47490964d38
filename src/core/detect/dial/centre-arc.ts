import { fitCircle } from '#core/numeric/fit-circle'
import type { Candidate } from '#core/detect/line/candidate'
import type { CentreEstimate } from './centre-from-strokes.ts'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'

/** How truly a compass is set on the shaft's place, mm (common practice, no source). */
const DRAWN_MM = 0.15
/** Least part of the circle that fixes a centre, rad. */
const LEAST_SPAN = 0.9

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
export const centreArc = (candidates: readonly Candidate[], map: PlaneMap, { near, perMm }: { readonly near: Point; readonly perMm: number }): CentreEstimate | null => {
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
  const drawn = (DRAWN_MM * perMm) ** 2
  // Two ends of one piece are not independent.
  return { centre: circle.centre, covariance: [2 * (row0?.[0] as number) + drawn, 2 * (row0?.[1] as number), 2 * (row1?.[1] as number) + drawn] }
}
