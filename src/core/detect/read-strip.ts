import { bandHalfMm } from '#core/detect/sheet/zone'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Candidate } from './candidate.ts'
import type { StrokeFit } from './fit-stroke.ts'
import { inkCentroid } from './mark-bearing.ts'
import { bearing, jacobianAt, type PlaneMap, toPlane } from './plane-map.ts'
import type { Point, Raster } from './raster.ts'
import type { Refusal } from './read-dial.ts'
import { refineMarks, refineModels } from './refine-marks.ts'
import { type RulerScale, rulerScale } from './ruler-scale.ts'
import { lookAgain } from './second-look.ts'
import { findRow, type Rung } from './strip-candidates.ts'
import { spine } from './strip-spine.ts'
import { centreLineAt, type StrokeModel } from './stroke-model.ts'
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
  /** Scale of a printed ruler beside the marks; null when there is none. */
  readonly ticks: RulerScale | null
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
    const [width] = [mark.fit.model.halfWidth]
    const scale = mark.u / Math.max(1e-9, mark.fit.uOffset)
    if (!kept.some((k) => Math.abs(k.place - mark.place) < scale * Math.max(1, 0.9 * width))) kept.push(mark)
  }
  return kept.sort((a, b) => a.place - b.place)
}

const refusal = (fit: StrokeFit, why: string): Refusal => ({ p0: centreLineAt(fit.model, -1), p1: centreLineAt(fit.model, 1), why })

/** On a printed strip the marks' band is free of print; 1 mm for the hand. */
const inBand = ({ sheet, map }: Surface) => (c: Candidate): boolean => sheet === null || sheet.rig !== 'mirror' || Math.abs(toPlane(map, c.middle)[1]) < bandHalfMm - 1

/** A row seen as a very large dial: its centre so far below that bearings are places. */
const FAR = 1e6

/** Places along the row that hold ink no mark explains yet. */
const overlooked = (raster: Raster, marks: readonly StripMark[], map: PlaneMap, along: Point): StrokeModel[] => {
  const across: Point = [along[1], -along[0]]
  const heights = marks.map((m) => m.middle[0] * across[0] + m.middle[1] * across[1])
  const places = marks.map((m) => m.place)
  const length = median(marks.map((m) => m.length))
  const middle = median(heights)
  const place = median(places)
  const centre: Point = [along[0] * place + across[0] * (middle - FAR), along[1] * place + across[1] * (middle - FAR)]
  const gap = median(places.slice(1).map((p, i) => p - (places[i] as number)))
  const right = bearing(centre, [centre[0] + across[0] * FAR + along[0], centre[1] + across[1] * FAR + along[1]])
  const up = bearing(centre, [centre[0] + across[0] * FAR, centre[1] + across[1] * FAR])
  const half = (Math.max(...places) - Math.min(...places)) / 2 + 2 * gap
  const centred = (Math.max(...places) + Math.min(...places)) / 2 - place
  const turn = right > up ? 1 : -1
  const shape = (get: (m: StripMark) => number): number => median(marks.map(get))
  return lookAgain({ raster, map }, {
    centre,
    inner: FAR - 0.3 * length,
    outer: FAR + 0.3 * length,
    halfWidthPx: shape((m) => m.fit.model.halfWidth),
    sigmaPx: shape((m) => m.fit.model.sigma),
    amplitude: shape((m) => m.fit.model.amplitudes.reduce((s, v) => s + v, 0) / m.fit.model.amplitudes.length),
    from: up + (turn * centred - half) / FAR,
    span: (2 * half) / FAR,
  }, marks.map((m) => m.fit.model), 0.45)
}

/** Fits that are like most, each place once. */
const settle = (fits: readonly (StrokeFit | null)[], map: PlaneMap, along: Point): { readonly marks: StripMark[]; readonly refused: Refusal[] } => {
  const all = fits.flatMap((f) => (f === null ? [] : [seenMark(f, map, along)]))
  const ink = ({ fit: f }: StripMark): number => (f.model.halfWidth * f.model.amplitudes.reduce((s, v) => s + v, 0)) / f.model.amplitudes.length / Math.max(10, f.paper)
  const usual = median(all.map(ink))
  const length = median(all.map((m) => m.length))
  const good = all.filter((m) => ink(m) > 0.25 * usual && ink(m) < 4 * usual && m.fit.uOffset < 1 && m.length > 0.35 * length)
  return { marks: dropTwins(good), refused: all.filter((m) => !good.includes(m)).map((m) => refusal(m.fit, 'unlike the other marks')) }
}

/**
 * Parallel marks along a line: the strokes that share a direction and stand in a row, fitted; overlooked ones looked for once
 * more; places along the row.
 */
export const readStrip = (raster: Raster, candidates: readonly Candidate[], surface: Surface): Strip | Unmeasurable => {
  const { map } = surface
  const usable = candidates.filter(inBand(surface))
  const row = findRow(usable, map, usualDepth(usable))
  if (row === null || row.rungs.length < 2) return unmeasurable('no row of parallel pen marks could be found', 'photo', 'take a sharper photo square to the strip, or say --rig pointer if the marks lie round a shaft')
  const line = spine(row.rungs)
  const through = row.rungs.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const like = { length: median(through.map((r) => r.high - r.low)), width: median(through.map((r) => r.width)), depth: median(through.map((r) => r.candidate.depth)) }
  const judged = row.rungs.map((rung) => ({ rung, why: objection(rung, line, like) }))
  const early = judged.flatMap(({ rung: { candidate }, why }) => (why === null ? [] : [{ p0: candidate.p0, p1: candidate.p1, why }]))
  let now = settle(refineMarks(raster, judged.filter((j) => j.why === null).map((j) => j.rung.candidate)), map, row.along)
  if (now.marks.length >= 5) {
    const fresh = overlooked(raster, now.marks, map, row.along)
    if (fresh.length > 0) now = settle(refineModels(raster, fresh, now.marks.map((m) => m.fit)), map, row.along)
  }
  if (now.marks.length < 2) return unmeasurable('fewer than two pen marks stand in a row', 'photo', 'take a sharper photo square to the strip')
  const ticks = rulerScale(row.rungs.filter((r) => objection(r, line, like) !== null || !(line(r.place) > r.low && line(r.place) < r.high)))
  return { map, marks: now.marks, along: row.along, refused: [...early, ...now.refused], ticks }
}
