import type { Candidate } from '#core/detect/line/candidate'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { PlaneMap } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Refusal } from '#core/detect/detection'
import { refineMarks, refineModels } from '#core/detect/stroke/refine-marks'
import { darkOf, findRow, type Rung, spine } from './find-row.ts'
import { usualDepth } from '#core/detect/dial/vote-centre'
import { medianOrZero } from '#core/numeric/median'
import { overlooked } from './overlooked.ts'
import { isPaperEnd } from '#core/detect/stroke/around-stroke'
import { FAINTEST, settle, type Settled, type StripMark } from './strip-marks.ts'
import { endsOf } from '#core/detect/stroke/stroke-model'
import { mergeShared } from '#core/detect/stroke/merge-shared'

/** Marks in a row, in order along it. */
export interface RowOfMarks {
  readonly marks: readonly StripMark[]
  /** Unit vector along the row, plane. */
  readonly along: Point
  readonly refused: readonly Refusal[]
  readonly doubts: readonly string[]
}

const objection = (rung: Rung, line: (place: number) => number, like: { readonly length: number; readonly width: number; readonly depth: number }): string | null => {
  const length = rung.high - rung.low
  const at = line(rung.place)
  if (at < rung.low - 0.35 * like.length || at > rung.high + 0.35 * like.length) return 'away from the row of marks'
  if (length < 0.35 * like.length) return 'too short'
  if (length > 3 * like.length) return 'too long: a ruled line, a fold or an edge'
  if (rung.width > 2.6 * like.width) return 'too wide'
  if (rung.candidate.depth < FAINTEST * like.depth) return 'too faint'
  return null
}

/** The marks without the outermost ones that are the paper's own ends, two on each side at most (a rim and its shadow). */
const withoutPaperEnds = (raster: Raster, marks: readonly StripMark[]): { readonly kept: readonly StripMark[]; readonly ends: readonly StripMark[] } => {
  const towards = marks[marks.length >> 1]?.fit.model.middle ?? [0, 0]
  const ended = marks.map(({ fit }, i) => (i < 2 || i > marks.length - 3) && isPaperEnd(raster, fit, towards))
  const [first, last] = [ended.slice(0, 2).lastIndexOf(true) + 1, ended.slice(-2).indexOf(true)]
  const to = last < 0 ? marks.length : marks.length - 2 + last
  return marks.length < 5 ? { kept: marks, ends: [] } : { kept: marks.slice(first, to), ends: [...marks.slice(0, first), ...marks.slice(to)] }
}

/** Lines much longer than all of them reach along the row are rules, not marks: the row is at least this share of a mark's length. */
const LEAST_REACH = 0.3

const isRow = (marks: readonly StripMark[]): boolean => {
  const places = marks.map((m) => m.place)
  return Math.max(...places) - Math.min(...places) > LEAST_REACH * medianOrZero(marks.map((m) => m.length))
}

/**
 * The strokes that share a direction and stand in a row, fitted; overlooked ones looked for once more.
 * @param place whether a mark may lie there, px
 * @returns null where no two strokes stand in a row
 */
export const rowOfStrokes = (raster: Raster, usable: readonly Candidate[], map: PlaneMap, place: (px: Point) => boolean): RowOfMarks | null => {
  const usual = usualDepth(usable)
  const row = findRow(usable, map, usual)
  if (row === null || row.rungs.length < 2) return null
  const line = spine(darkOf(row.rungs, usual))
  const through = row.rungs.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const like = { length: medianOrZero(through.map((r) => r.high - r.low)), width: medianOrZero(through.map((r) => r.width)), depth: medianOrZero(through.map((r) => r.candidate.depth)) }
  const judged = row.rungs.map((rung) => ({ rung, why: objection(rung, line, like) }))
  const early = judged.flatMap(({ rung: { candidate }, why }) => (why === null ? [] : [{ p0: candidate.p0, p1: candidate.p1, why }]))
  const seen = (fits: readonly (StrokeFit | null)[]): Settled => settle(raster, mergeShared(raster, fits.flatMap((f) => (f === null ? [] : [f]))), map, row.along)
  let now = seen(refineMarks(raster, judged.filter((j) => j.why === null).map((j) => j.rung.candidate)))
  if (now.marks.length >= 5) {
    const fresh = overlooked(raster, now.marks, map, row.along).filter(({ middle }) => place(middle))
    if (fresh.length > 0) now = seen(refineModels(raster, fresh, now.marks.map((m) => m.fit)))
  }
  if (now.shared.length > 0) now = settle(raster, refineModels(raster, now.shared.map((m) => m.fit.model), now.marks.filter((m) => !now.shared.includes(m)).map((m) => m.fit)), map, row.along)
  const { kept, ends } = withoutPaperEnds(raster, now.marks)
  const refused = ends.map(({ fit }): Refusal => ({ ...endsOf(fit.model), why: 'where the paper ends' }))
  return kept.length < 2 || !isRow(kept) ? null : { marks: kept, along: row.along, refused: [...early, ...now.refused, ...refused], doubts: [] }
}
