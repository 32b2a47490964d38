import type { Refusal } from '#core/detect/detection'
import { turnBetween } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { goesOn, ON, sideStep } from '#core/detect/stroke/around-stroke'
import { isBareBetween } from '#core/detect/stroke/bare-between'
import { refineModels } from '#core/detect/stroke/refine-marks'
import { seenWidth, strokeBetween } from '#core/detect/stroke/stroke-model'
import { type Likeness, likenessOf, TOO_FAINT } from './judge-marks.ts'
import { ringOf } from './ring-of-marks.ts'
import type { Ring } from './left-round.ts'
import { type FittedMark, fittedMark } from '#core/detect/centre/seen-from-centre'
import type { Stage } from './sort-strokes.ts'

/** A faint stroke's length and width are between these shares of the usual one's, and so much of it lies in the ring. */
const SHORTEST = 0.5
const LONGEST = 1.6
const BROADEST = 1.6
const IN_RING = 0.7
/** It aims at the shaft as steadily as a hand does, rad. */
const STEADY = 0.052
/** It is placed to this share of its width. */
const PLACED = 0.25
/** Nearer to another than so many widths, as seen, it may be what that leaves. */
const APART = 2.5
/** One side darker than the other by this share of its own darkness makes it an edge. */
const ONE_SIDED = 0.6
/** Fewer marks do not tell what is usual. */
const LEAST = 8

const widthsApart = (a: FittedMark, b: FittedMark): number => {
  const [{ middle: p, along }, { middle: q }] = [a.fit.model, b.fit.model]
  const near = Math.abs(turnBetween(a.bearing, b.bearing)) < 1
  return near ? Math.abs((q[1] - p[1]) * along[0] - (q[0] - p[0]) * along[1]) / seenWidth(a.fit.model) : Number.POSITIVE_INFINITY
}

const isLikeThem = (m: FittedMark, like: Likeness, ring: Ring): boolean => {
  const length = m.outer - m.inner
  const inRing = Math.min(m.outer, ring.outer) - Math.max(m.inner, ring.inner)
  return (
    length > SHORTEST * like.length[0] &&
    length < LONGEST * like.length[0] &&
    inRing > IN_RING * Math.min(length, ring.outer - ring.inner) &&
    Math.abs(m.lean - like.lean[0]) < STEADY &&
    m.widthPx < BROADEST * like.width[0] + 1 &&
    m.fit.uOffset < PLACED * Math.max(1, like.width[0])
  )
}

/**
 * Strokes refused for nothing but their faintness, like the marks in place, aim, length and width and alone on bare paper: where light glares,
 * or a pen runs dry, marks look so. To be listed as doubtful.
 * @param marks known marks; fewer than eight tell of none
 */
export const faintMarks = ({ raster, map, usable }: Stage, marks: readonly FittedMark[], refused: readonly Refusal[], centre: Point): FittedMark[] => {
  const faint = refused.filter(({ why }) => why === TOO_FAINT)
  if (marks.length < LEAST || faint.length === 0) return []
  const like = likenessOf(marks)
  const ring = ringOf(marks, centre)
  const drawn = { halfWidth: ring.halfWidthPx, sigma: ring.sigmaPx, amplitudes: [0.2 * ring.amplitude, 0.2 * ring.amplitude] }
  const fits = refineModels(raster, faint.map(({ p0, p1 }) => strokeBetween(p0, p1, drawn)), marks.map((m) => m.fit)).slice(marks.length)
  const taken: FittedMark[] = []
  for (const fit of fits) {
    if (fit === null || !usable(fit.model.middle)) continue
    const mark = fittedMark(fit, map, centre)
    const alone = [...marks, ...taken].every((other) => widthsApart(mark, other) > APART)
    if (alone && isLikeThem(mark, like, ring) && goesOn(raster, fit.model) < ON && Math.abs(sideStep(raster, fit.model)) < ONE_SIDED && !isBareBetween(raster, fit.model)) taken.push(mark)
  }
  return taken
}
