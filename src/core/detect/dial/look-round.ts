import { judge, type Judged, type Stage } from './sort-strokes.ts'
import { medianOrZero, quantile } from '#core/numeric/median'
import type { Point, Raster } from '#core/detect/raster'
import { refineModels } from '#core/detect/stroke/refine-marks'
import { ringOf } from './ring-of-marks.ts'
import { leftRound, type Ring, type View } from './left-round.ts'
import { lookAgain, overlooked, type Wanted } from './second-look.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { goesOnAmong, ON } from '#core/detect/stroke/around-stroke'
import { inkPerLength, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { besideCover } from './under-cover.ts'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { bearing, toPlane, turned } from '#core/detect/plane-map'
import { mergeShared } from '#core/detect/stroke/merge-shared'

const TURN = 2 * Math.PI
/** The next mark is looked for as far as this many usual gaps, or this many of the widest but a tenth, from the last. */
const USUAL = 2.5
const WIDE = 1.5

/** Offsets that can be reached from `last` in steps no longer than `step`, going up. */
const chain = (offsets: readonly number[], last: number, step: number): Set<number> => {
  const reached = new Set<number>()
  let end = last
  for (const offset of [...offsets].sort((a, b) => a - b)) {
    if (offset - end > step) break
    reached.add(offset)
    end = offset
  }
  return reached
}

/**
 * Looks where the ring has no known marks, and takes what follows on from the known ones without a wide gap: in a weak or
 * shaded part of the photo a whole stretch may have been overlooked.
 * @param marks known marks, three or more
 * @param ring where they are: its bearings have been looked at
 */
export const lookFarther = (view: View, marks: readonly FittedMark[], ring: Ring, wanted: Wanted): StrokeModel[] => {
  if (marks.length < 3 || ring.span >= TURN) return []
  const angles = marks.map((m) => turned(m.bearing - ring.from)).sort((a, b) => a - b)
  const gaps = angles.slice(1).map((a, i) => a - (angles[i] as number))
  const step = Math.max(USUAL * quantile(gaps, 0.5), WIDE * quantile(gaps, 0.9))
  const rest: Ring = { ...ring, from: ring.from + ring.span, span: TURN - ring.span }
  const found = lookAgain(view, rest, marks.map((m) => m.fit.model), wanted)
  const offsets = found.map(({ middle }) => turned(bearing(ring.centre, toPlane(view.map, middle)) - ring.from))
  const up = chain(offsets, angles[angles.length - 1] as number, step)
  const down = chain(offsets.map((o) => TURN - o), -(angles[0] as number), step)
  return found.filter((_, i) => up.has(offsets[i] as number) || down.has(TURN - (offsets[i] as number)))
}

/** Marks of unequal length leave some on no more than half of the ring; those come last, as they would spoil a joint reading. */
export const OVERLOOKED: Wanted = { least: 0.4, short: false }
export const SHORT: Wanted = { least: 0.4, short: true }

/** Paler than this share of the known marks, a stroke may be a piece of a rule. */
const PALE = 0.7

/** Is something as faint as this beside the known marks, now that it is fitted, a piece of a rule? It would take ink from the marks that it crosses. */
const isOfRule = (raster: Raster, fit: StrokeFit, known: readonly StrokeFit[]): boolean =>
  inkPerLength(fit.model) < PALE * medianOrZero(known.map((k) => inkPerLength(k.model))) && goesOnAmong(raster, fit.model) > ON

/** Fits what was overlooked with all the rest; the same judgement when there is nothing. */
const withFresh = (stage: Stage, now: Judged, fresh: readonly StrokeModel[], centre: Point): Judged => {
  const usable = fresh.filter(({ middle }) => stage.usable(middle))
  if (usable.length === 0) return now
  const fits = refineModels(stage.raster, usable, now.marks.map((m) => m.fit))
  const known = fits.slice(0, now.marks.length).flatMap((f) => (f === null ? [] : [f]))
  const found = besideCover(stage, centre, usable.map((model, i) => ({ model, fit: fits[now.marks.length + i] ?? null })), known)
  const clear = found.flatMap((f) => (f === null || isOfRule(stage.raster, f, known) ? [] : [f]))
  return judge(mergeShared(stage.raster, [...known, ...clear]), stage.map, centre)
}

/** Looks round the ring for overlooked marks and fits all again, until nothing new is found (at most three times). */
export const lookRound = (stage: Stage, first: Judged, centre: Point, wanted: Wanted): Judged => {
  let now = first
  for (let round = 0; round < 3; round++) {
    const ring = ringOf(now.marks, centre)
    const left = now.left ?? leftRound(stage, ring, now.marks.map((m) => m.fit.model))
    const seen = overlooked(left, wanted)
    const farther = round === 0 ? lookFarther(stage, now.marks, ring, wanted) : []
    const next = withFresh(stage, now, [...seen, ...farther], centre)
    if (next === now) return { ...now, left }
    const more = next.marks.length > now.marks.length
    now = { ...next, refused: [...first.refused, ...next.refused], together: first.together }
    if (!more) break
  }
  return now
}
