import type { Candidate } from '#core/detect/line/candidate'
import type { CentreEstimate } from './centre-from-strokes.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { refineMarks } from '#core/detect/stroke/refine-marks'
import { centreLineAt } from '#core/detect/stroke/stroke-model'

/** How truly a cross is drawn on the shaft's place, mm (common practice, no source). */
const DRAWN_MM = 0.15

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
export const centreCross = (raster: Raster, candidates: readonly Candidate[], map: PlaneMap, { near, reach, radius, perMm }: { readonly near: Point; readonly reach: number; readonly radius: number; readonly perMm: number }): CentreEstimate | null => {
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
  const variance = (DRAWN_MM * perMm) ** 2
  return { centre, covariance: [variance, 0, variance] }
}
