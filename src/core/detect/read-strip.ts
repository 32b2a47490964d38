import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import type { StrokeFit } from './fit-stroke.ts'
import { inkCentroid } from './mark-bearing.ts'
import { jacobianAt, type PlaneMap, toPlane } from './plane-map.ts'
import type { Point, Raster } from './raster.ts'
import type { Refusal } from './read-dial.ts'
import { refineMarks } from './refine-marks.ts'
import { findRow, type Rung } from './strip-candidates.ts'
import { spine } from './strip-spine.ts'
import { centreLineAt } from './stroke-model.ts'
import type { Surface } from './surface.ts'
import { usualDepth } from './vote-centre.ts'

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

/** Marks in a row on a strip. */
export interface Strip {
  readonly map: PlaneMap
  readonly marks: readonly StripMark[]
  readonly along: Point
  readonly refused: readonly Refusal[]
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

const objection = (rung: Rung, line: (place: number) => number, like: { readonly length: number; readonly width: number; readonly depth: number }): string | null => {
  const length = rung.high - rung.low
  const at = line(rung.place)
  if (at < rung.low - 0.35 * like.length || at > rung.high + 0.35 * like.length) return 'away from the row of marks'
  if (length < 0.35 * like.length) return 'too short'
  if (length > 3 * like.length) return 'too long: a ruled line, a fold or an edge'
  if (rung.width > 2.6 * like.width) return 'too wide'
  if (rung.candidate.depth < 0.2 * like.depth) return 'too faint'
  return null
}

const seenMark = (fit: StrokeFit, map: PlaneMap, along: Point): StripMark => {
  const middle = inkCentroid(fit.model, map)
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
    const [width] = [mark.fit.model.halfWidth]
    const scale = mark.u / Math.max(1e-9, mark.fit.uOffset)
    if (!kept.some((k) => Math.abs(k.place - mark.place) < scale * Math.max(1, 0.9 * width))) kept.push(mark)
  }
  return kept.sort((a, b) => a.place - b.place)
}

const refusal = (fit: StrokeFit, why: string): Refusal => ({ p0: centreLineAt(fit.model, -1), p1: centreLineAt(fit.model, 1), why })

/**
 * Parallel marks along a line: the strokes that share a direction and stand in a row, fitted; places along the row.
 * The row's direction is the line through the middles of the marks' ink.
 */
export const readStrip = (raster: Raster, candidates: readonly Candidate[], surface: Surface, _hints: Hints): Strip | Unmeasurable => {
  const row = findRow(candidates, surface.map, usualDepth(candidates))
  if (row === null || row.rungs.length < 2) return unmeasurable('no row of parallel pen marks could be found', 'photo', 'take a sharper photo square to the strip, or say --rig pointer if the marks lie round a shaft')
  const line = spine(row.rungs)
  const through = row.rungs.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const like = { length: median(through.map((r) => r.high - r.low)), width: median(through.map((r) => r.width)), depth: median(through.map((r) => r.candidate.depth)) }
  const judged = row.rungs.map((rung) => ({ rung, why: objection(rung, line, like) }))
  const fits = refineMarks(raster, judged.filter((j) => j.why === null).map((j) => j.rung.candidate)).flatMap((f) => (f === null ? [] : [f]))
  const early = judged.flatMap(({ rung: { candidate }, why }) => (why === null ? [] : [{ p0: candidate.p0, p1: candidate.p1, why }]))
  const ink = (f: StrokeFit): number => (f.model.halfWidth * Math.max(...f.model.amplitudes)) / Math.max(10, f.paper)
  const usual = median(fits.map(ink))
  const good = fits.filter((f) => ink(f) > 0.25 * usual && ink(f) < 4 * usual && f.uOffset < 1)
  const marks = dropTwins(good.map((f) => seenMark(f, surface.map, row.along)))
  if (marks.length < 2) return unmeasurable('fewer than two pen marks stand in a row', 'photo', 'take a sharper photo square to the strip')
  return { map: surface.map, marks, along: row.along, refused: [...early, ...fits.filter((f) => !good.includes(f)).map((f) => refusal(f, 'unlike the other marks'))] }
}
