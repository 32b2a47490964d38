import type { Point } from '#core/detect/raster'
import { quantile } from '#core/numeric/median'
import { bowAt, inkPerLength } from '#core/detect/stroke/stroke-model'
import { lookRound, OVERLOOKED, SHORT } from './look-round.ts'
import { radiusOf } from '#core/detect/centre/dial-centres'
import { judge, type Judged, type Stage } from './sort-strokes.ts'
import { ringOf } from './ring-of-marks.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { type PlaneMap, pxPerUnitAt, toPhoto } from '#core/detect/plane-map'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { type Crowd, crowdOf } from '#core/detect/group/crowd-of'
import { resolveFew } from '#core/detect/group/resolve-few'
import { resolveGroups } from '#core/detect/group/resolve-groups'
import { asOne, type Reading, splitWide } from '#core/detect/stroke/split-wide'

/** Of the marks that a joint reading left as they were, it may make strangers of this share and one more. */
const ESTRANGED = 0.1

/** Does one stroke's line run through the middle of another, so that the other is a second find of the same ink? */
const standsFor = ({ fit: { model } }: FittedMark, { fit: { model: { middle } } }: FittedMark): boolean => {
  const [dx, dy] = [middle[0] - model.middle[0], middle[1] - model.middle[1]]
  const [t, s] = [dx * model.along[0] + dy * model.along[1], dy * model.along[0] - dx * model.along[1]]
  return Math.abs(t) < model.halfLength && Math.abs(s - bowAt(model, t / model.halfLength)) < model.halfWidth + model.sigma
}

/**
 * Does a joint reading take the marks it did not touch for something else? Then what it read was not drawn by their pen.
 * @param fits all strokes after the reading, the untouched ones among them
 * @param after those of them that still count as marks
 */
export const estranges = (before: readonly FittedMark[], fits: readonly StrokeFit[], after: readonly FittedMark[]): boolean => {
  const left = before.filter((m) => fits.includes(m.fit))
  const lost = left.filter((m) => !after.some((other) => other.fit === m.fit || standsFor(other, m)))
  return lost.length > 1 + ESTRANGED * left.length
}

/** What of the ring may hold strokes that touch; null where there is no such ink, or are too few marks. */
const crowdIn = (stage: Stage, { marks }: Judged, centre: Point): Crowd | null => {
  if (marks.length < 3) return null
  const ring = ringOf(marks, centre)
  const middle = toPhoto(stage.map, [centre[0] + (ring.inner + ring.outer) / 2, centre[1]])
  return crowdOf(stage, marks, ring, stage.surface.metric ? pxPerUnitAt(stage.map, middle) : null)
}

/** The marks with strokes that were read together; as they are where there are no more for it, or others would be estranged. */
const withTogether = (stage: Stage, now: Judged, centre: Point, fits: readonly StrokeFit[] | null): Judged => {
  if (fits === null) return now
  const next = judge(fits.filter((f) => stage.usable(f.model.middle)), stage.map, centre)
  if (next.marks.length <= now.marks.length || estranges(now.marks, fits, next.marks)) return now
  return { marks: next.marks, refused: [...now.refused, ...next.refused], together: now.together + next.marks.length - now.marks.length }
}

/** How far the marks are apart as a rule, px of the photo. */
const usualGapPx = (marks: readonly FittedMark[], map: PlaneMap, centre: Point): number => {
  const bearings = marks.map((m) => m.bearing).sort((a, b) => a - b)
  const gaps = bearings.slice(1).map((b, i) => b - (bearings[i] as number))
  return gaps.length === 0 ? 0 : quantile(gaps, 0.5) * radiusOf(marks) * pxPerUnitAt(map, toPhoto(map, centre))
}

const isWhole = ({ parts }: Reading): boolean => parts.length === 1

/** Wide marks as two, where the picture supports it; one neither half of which is a mark stays whole. */
const splitAll = ({ raster, map }: Stage, now: Judged, centre: Point): Judged => {
  const fits = now.marks.map((m) => m.fit)
  const usual = { halfWidth: quantile(fits.map((f) => f.model.halfWidth), 0.5), ink: quantile(fits.map((f) => inkPerLength(f.model)), 0.5), gapPx: usualGapPx(now.marks, map, centre) }
  const readings = splitWide(raster, fits, usual)
  if (readings.every(isWhole)) return now
  const seen = new Set(judge(readings.flatMap(({ parts }) => parts), map, centre).marks.map((m) => m.fit))
  const kept = readings.map((reading, i) => (reading.parts.some((f) => seen.has(f)) ? reading : asOne(fits[i] as StrokeFit)))
  if (kept.every(isWhole)) return now
  const next = judge(kept.flatMap(({ parts }) => parts), map, centre)
  return { ...next, refused: [...now.refused, ...next.refused], together: now.together + kept.filter(({ byWidth }) => byWidth).length }
}

/** The marks that were overlooked, those that lie over each other, and those that touch. */
export const complete = (stage: Stage, first: Judged, centre: Point): Judged => {
  const seen = splitAll(stage, lookRound(stage, first, centre, OVERLOOKED), centre)
  const crowd = crowdIn(stage, seen, centre)
  const read = withTogether(stage, seen, centre, crowd && resolveGroups(stage, seen.marks, crowd))
  if (read !== seen) return read
  const last = lookRound(stage, seen, centre, SHORT)
  const still = last.marks === seen.marks ? crowd : crowdIn(stage, last, centre)
  return withTogether(stage, last, centre, still && (still.few ? resolveFew : resolveGroups)(stage, last.marks, still))
}
