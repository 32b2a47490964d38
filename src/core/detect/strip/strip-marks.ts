import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { inkCentroid } from '#core/detect/dial/mark-bearing'
import { jacobianAt, type PlaneMap, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Refusal } from '#core/detect/detection'
import { inTurn } from '#core/detect/stroke/touching'
import { goesOn, ON, sideStep } from '#core/detect/stroke/around-stroke'
import { centreLineAt, endsOf, inkPerLength, meanAmplitude, peakDarkness, seenWidth } from '#core/detect/stroke/stroke-model'
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

/** A stroke with less ink than this share of the usual one's, or paler for its width, is faint, and with less than that none. */
const FAINT = 0.25
export const FAINTEST = 0.08
/** A faint one is a mark only where it is as long and as wide as marks are, many times as dark as the paper varies by, with bare paper beyond its ends and alike on both sides. */
const LENGTHS = [0.6, 1.6] as const
const WIDEST = 1.7
const ABOVE_GRAIN = 2
const STEP = 0.4

interface Like {
  readonly ink: number
  readonly dark: number
  readonly length: number
  readonly width: number
}

const inkOnPaper = ({ fit: { model, paper } }: StripMark): number => inkPerLength(model) / Math.max(10, paper)

const darkOnPaper = ({ fit: { model, paper } }: StripMark): number => peakDarkness(model) / Math.max(10, paper)

/** What most of some marks are like. */
const usualOf = (marks: readonly StripMark[]): Like => {
  const usual = (get: (m: StripMark) => number): number => medianOrZero(marks.map(get))
  return { ink: usual(inkOnPaper), dark: usual(darkOnPaper), length: usual((m) => m.length), width: usual((m) => seenWidth(m.fit.model)) }
}

const isFaint = (mark: StripMark, { ink, dark }: Like): boolean => inkOnPaper(mark) < FAINT * ink || darkOnPaper(mark) < FAINT * dark

/** A dot or cross paler than this share of the usual one is faint: a hand presses them more alike than strokes. */
const PALE_SPOT = 0.5

/** Which of some marks are faint beside the others. */
export const faintOf = (marks: readonly StripMark[]): boolean[] => {
  const usual = usualOf(marks)
  return marks.map((m) => (m.kind === 'stroke' ? isFaint(m, usual) : darkOnPaper(m) < PALE_SPOT * usual.dark))
}

/** Is a faint stroke drawn like the marks, and no piece of a rule, of an edge or of grain? */
const isDrawn = (raster: Raster, { fit: { model, noise }, length }: StripMark, usual: Like): boolean =>
  length > LENGTHS[0] * usual.length &&
  length < LENGTHS[1] * usual.length &&
  seenWidth(model) < WIDEST * usual.width &&
  meanAmplitude(model) > ABOVE_GRAIN * noise &&
  Math.abs(sideStep(raster, model)) < STEP &&
  goesOn(raster, model) < ON

const isMark = (raster: Raster, mark: StripMark, usual: Like): boolean => {
  const ink = inkOnPaper(mark)
  return ink > FAINTEST * usual.ink && ink < 4 * usual.ink && mark.fit.uOffset < 1 && mark.length > 0.35 * usual.length && (!isFaint(mark, usual) || isDrawn(raster, mark, usual))
}

/** Fits that are like most, each place once. */
export const settle = (raster: Raster, fits: readonly (StrokeFit | null)[], map: PlaneMap, along: Point): Settled => {
  const all = fits.flatMap((f) => (f === null ? [] : [seenMark(f, map, along)]))
  const usual = usualOf(all)
  const good = all.filter((m) => isMark(raster, m, usual))
  const { kept, shared } = dropTwins(good)
  return { marks: kept, shared, refused: all.filter((m) => !good.includes(m)).map((m) => ({ ...endsOf(m.fit.model), why: 'unlike the other marks' })) }
}

/** The same marks in another plane, in order along its row. */
export const replaced = (marks: readonly StripMark[], map: PlaneMap, along: Point): StripMark[] => marks.map((m) => seenMark(m.fit, map, along, m.kind)).sort((a, b) => a.place - b.place)
