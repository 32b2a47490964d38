import { bandHalfMm } from '#core/detect/sheet/zone'
import { edgeSurface } from '#core/detect/strip/edge-surface'
import { overlooked } from '#core/detect/strip/overlooked'
import { type Parted, partRows } from '#core/detect/strip/part-rows'
import { type Ground, rulerSurface, type Scale } from '#core/detect/strip/ruler-surface'
import { settle, type StripMark } from '#core/detect/strip/strip-marks'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import { splitLongLines } from './long-lines.ts'
import { toPlane } from './plane-map.ts'
import type { Point, Raster } from './raster.ts'
import type { Refusal } from './read-dial.ts'
import { refineMarks, refineModels } from './refine-marks.ts'
import { findRow, type Rung } from './strip-candidates.ts'
import { spine } from './strip-spine.ts'
import type { Surface } from './surface.ts'
import { usablePlace } from './usable.ts'
import { usualDepth } from './vote-centre.ts'

/** Marks in a row on a strip. */
export interface Strip {
  /** The plane they were placed in: the ruler’s own where one was used. */
  readonly surface: Surface
  readonly marks: readonly StripMark[]
  readonly along: Point
  readonly refused: readonly Refusal[]
  /** By a ruler beside the marks; null when there is none of a known unit. */
  readonly scale: Scale | null
  readonly doubts: readonly string[]
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

/** On a printed strip the marks' band is free of print; 1 mm for the hand. */
const inBand = ({ sheet, map }: Surface) => (c: Candidate): boolean => sheet === null || sheet.rig !== 'mirror' || Math.abs(toPlane(map, c.middle)[1]) < bandHalfMm - 1

/** A printed sheet has its own scale; elsewhere a ruler may lie beside the marks. */
const part = (raster: Raster, candidates: readonly Candidate[], surface: Surface): Parted =>
  surface.sheet === null ? partRows(raster, candidates) : { rest: candidates.filter(inBand(surface)), ruler: null, doubts: [] }

const groundOf = (surface: Surface, { ruler }: Parted, hints: Hints): Ground => (ruler === null ? { surface, scale: null, doubts: [] } : rulerSurface(surface, ruler, hints))

const SHARPER = 'take a sharper photo square to the strip'

/**
 * Parallel marks along a line: a ruler beside them told apart and used, the strokes that share a direction and stand in a row,
 * fitted; overlooked ones looked for once more; places along the row.
 * @param candidates every thin straight line on the paper, long ones among them
 */
export const readStrip = (raster: Raster, candidates: readonly Candidate[], paper: Surface, hints: Hints): Strip | Unmeasurable => {
  const parted = part(raster, candidates, paper)
  const { surface, scale, doubts } = groundOf(paper, parted, hints)
  const { map } = surface
  const usable = splitLongLines(parted.rest).short
  const row = findRow(usable, map, usualDepth(usable))
  if (row === null || row.rungs.length < 2) return unmeasurable('no row of parallel pen marks could be found', 'photo', `${SHARPER}, or say --rig pointer if the marks lie round a shaft`)
  const line = spine(row.rungs)
  const through = row.rungs.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const like = { length: median(through.map((r) => r.high - r.low)), width: median(through.map((r) => r.width)), depth: median(through.map((r) => r.candidate.depth)) }
  const judged = row.rungs.map((rung) => ({ rung, why: objection(rung, line, like) }))
  const early = judged.flatMap(({ rung: { candidate }, why }) => (why === null ? [] : [{ p0: candidate.p0, p1: candidate.p1, why }]))
  let now = settle(refineMarks(raster, judged.filter((j) => j.why === null).map((j) => j.rung.candidate)), map, row.along)
  if (now.marks.length >= 5) {
    const place = usablePlace(paper, hints)
    const fresh = overlooked(raster, now.marks, map, row.along).filter(({ middle }) => place(middle))
    if (fresh.length > 0) now = settle(refineModels(raster, fresh, now.marks.map((m) => m.fit)), map, row.along)
  }
  if (now.marks.length < 2) return unmeasurable('fewer than two pen marks stand in a row', 'photo', SHARPER)
  const edges = surface.by === 'none' ? edgeSurface(raster, now.marks, row.along, surface) : null
  const placed = edges === null ? now : settle(now.marks.map((m) => m.fit), edges.map, [1, 0])
  const ticks = (parted.ruler?.ticks ?? []).map(({ foot, tip }): Refusal => ({ p0: foot, p1: tip, why: 'a tick of the ruler' }))
  return { surface: edges ?? surface, marks: placed.marks, along: edges === null ? row.along : [1, 0], refused: [...ticks, ...early, ...now.refused], scale, doubts: [...parted.doubts, ...doubts] }
}
