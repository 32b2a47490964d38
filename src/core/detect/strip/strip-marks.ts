import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { inkCentroid } from '#core/detect/dial/mark-bearing'
import { jacobianAt, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import type { Refusal } from '#core/detect/detection'
import { inTurn } from '#core/detect/stroke/touching'
import { centreLineAt, endsOf, inkPerLength } from '#core/detect/stroke/stroke-model'
import { medianOrZero } from '#core/numeric/median'

export interface StripMark {
  /** A stroke across the row, or a dot or cross on it (its fit then stands for it in the words of a stroke). */
  readonly kind: 'stroke' | 'spot'
  readonly fit: StrokeFit
  /** Middle of the ink, plane. */
  readonly middle: Point
  /** Place along the row, plane units, and its standard uncertainty from the mark itself. */
  readonly place: number
  readonly u: number
  readonly length: number
  readonly lean: number
}

const seenMark = (fit: StrokeFit, map: PlaneMap, along: Point, kind: StripMark['kind'] = 'stroke'): StripMark => {
  const middle = inkCentroid(fit, map)
  const [a, b, c, d] = jacobianAt(map, centreLineAt(fit.model, 0))
  const [sx, sy] = [-fit.model.along[1], fit.model.along[0]]
  const moved = (a * sx + b * sy) * along[0] + (c * sx + d * sy) * along[1]
  const p = toPlane(map, centreLineAt(fit.model, -1))
  const q = toPlane(map, centreLineAt(fit.model, 1))
  const length = Math.hypot(q[0] - p[0], q[1] - p[1])
  const lean = Math.asin(Math.min(1, Math.max(-1, ((q[0] - p[0]) * along[0] + (q[1] - p[1]) * along[1]) / length))) * (fit.model.along[1] >= 0 ? 1 : -1)
  return { kind, fit, middle, place: middle[0] * along[0] + middle[1] * along[1], u: fit.uOffset * Math.abs(moved), length, lean }
}

interface Single {
  readonly kept: StripMark[]
  /** Kept ones that shared their ink with another fit. */
  readonly shared: StripMark[]
}

const inkOf = ({ fit: { model } }: StripMark): number => model.halfLength * inkPerLength(model)

/** Of two fits to one stroke the one with more ink. */
const dropTwins = (marks: readonly StripMark[]): Single => {
  const kept: StripMark[] = []
  const shared = new Set<StripMark>()
  for (const mark of [...marks].sort((a, b) => inkOf(b) - inkOf(a))) {
    const scale = mark.u / Math.max(1e-9, mark.fit.uOffset)
    const twin = kept.find((k) => Math.abs(k.place - mark.place) < scale * Math.max(1, (inTurn(k.fit.model, mark.fit.model) ? 2.2 : 0.9) * Math.max(k.fit.model.halfWidth, mark.fit.model.halfWidth)))
    if (twin === undefined) kept.push(mark)
    else shared.add(twin)
  }
  return { kept: kept.sort((a, b) => a.place - b.place), shared: [...shared] }
}

export interface Settled {
  readonly marks: StripMark[]
  /** Marks whose fit had a rival for the same ink: to be fitted once more without it. */
  readonly shared: StripMark[]
  readonly refused: Refusal[]
}

/** Fits that are like most, each place once. */
export const settle = (fits: readonly (StrokeFit | null)[], map: PlaneMap, along: Point): Settled => {
  const all = fits.flatMap((f) => (f === null ? [] : [seenMark(f, map, along)]))
  const ink = ({ fit: f }: StripMark): number => inkPerLength(f.model) / Math.max(10, f.paper)
  const usual = medianOrZero(all.map(ink))
  const length = medianOrZero(all.map((m) => m.length))
  const good = all.filter((m) => ink(m) > 0.25 * usual && ink(m) < 4 * usual && m.fit.uOffset < 1 && m.length > 0.35 * length)
  const { kept, shared } = dropTwins(good)
  return { marks: kept, shared, refused: all.filter((m) => !good.includes(m)).map((m) => ({ ...endsOf(m.fit.model), why: 'unlike the other marks' })) }
}

/** The same marks in another plane, in order along its row. */
export const replaced = (marks: readonly StripMark[], map: PlaneMap, along: Point): StripMark[] => marks.map((m) => seenMark(m.fit, map, along, m.kind)).sort((a, b) => a.place - b.place)
