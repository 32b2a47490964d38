import type { StrokeFit } from '#core/detect/fit-stroke'
import { inkCentroid } from '#core/detect/mark-bearing'
import { jacobianAt, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import type { Refusal } from '#core/detect/read-dial'
import { centreLineAt } from '#core/detect/stroke-model'

export interface StripMark {
  readonly fit: StrokeFit
  /** Middle of the ink, plane. */
  readonly middle: Point
  /** Place along the row, plane units, and its standard uncertainty from the mark itself. */
  readonly place: number
  readonly u: number
  readonly length: number
  readonly lean: number
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

const seenMark = (fit: StrokeFit, map: PlaneMap, along: Point): StripMark => {
  const middle = inkCentroid(fit, map)
  const [a, b, c, d] = jacobianAt(map, centreLineAt(fit.model, 0))
  const [sx, sy] = [-fit.model.along[1], fit.model.along[0]]
  const moved = (a * sx + b * sy) * along[0] + (c * sx + d * sy) * along[1]
  const p = toPlane(map, centreLineAt(fit.model, -1))
  const q = toPlane(map, centreLineAt(fit.model, 1))
  const length = Math.hypot(q[0] - p[0], q[1] - p[1])
  const lean = Math.asin(Math.min(1, Math.max(-1, ((q[0] - p[0]) * along[0] + (q[1] - p[1]) * along[1]) / length))) * (fit.model.along[1] >= 0 ? 1 : -1)
  return { fit, middle, place: middle[0] * along[0] + middle[1] * along[1], u: fit.uOffset * Math.abs(moved), length, lean }
}

const dropTwins = (marks: readonly StripMark[]): StripMark[] => {
  const kept: StripMark[] = []
  for (const mark of [...marks].sort((a, b) => b.length - a.length)) {
    const width = mark.fit.model.halfWidth
    const scale = mark.u / Math.max(1e-9, mark.fit.uOffset)
    if (!kept.some((k) => Math.abs(k.place - mark.place) < scale * Math.max(1, 0.9 * width))) kept.push(mark)
  }
  return kept.sort((a, b) => a.place - b.place)
}

const refusal = (fit: StrokeFit, why: string): Refusal => ({ p0: centreLineAt(fit.model, -1), p1: centreLineAt(fit.model, 1), why })

/** Fits that are like most, each place once. */
export const settle = (fits: readonly (StrokeFit | null)[], map: PlaneMap, along: Point): { readonly marks: StripMark[]; readonly refused: Refusal[] } => {
  const all = fits.flatMap((f) => (f === null ? [] : [seenMark(f, map, along)]))
  const ink = ({ fit: f }: StripMark): number => (f.model.halfWidth * f.model.amplitudes.reduce((s, v) => s + v, 0)) / f.model.amplitudes.length / Math.max(10, f.paper)
  const usual = median(all.map(ink))
  const length = median(all.map((m) => m.length))
  const good = all.filter((m) => ink(m) > 0.25 * usual && ink(m) < 4 * usual && m.fit.uOffset < 1 && m.length > 0.35 * length)
  return { marks: dropTwins(good), refused: all.filter((m) => !good.includes(m)).map((m) => refusal(m.fit, 'unlike the other marks')) }
}
