import type { Candidate } from '#core/detect/line/candidate'
import { notRuled } from '#core/detect/line/long-lines'
import { workingFactor } from '#core/detect/plane'
import { photoPlane, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { median } from '#core/numeric/median'
import { findRow, type Row, type Rung } from './find-row.ts'
import { type EvenTicks, evenTicks } from './even-ticks.ts'
import { measureTicks } from './measure-ticks.ts'
import { fitRuler, longestOf, type RulerFit, type SeenTick, tickLengthsOf, unevenness, wholeRuler } from './ruler-map.ts'
import { type TickLengths, tickLengths } from './tick-lengths.ts'
import { type TickRow, tickRows } from './tick-row.ts'

/** A ruler seen beside the marks. */
export interface Ruler extends RulerFit {
  readonly lengths: TickLengths
  /** Departure from an even grid, steps. */
  readonly spread: number
  /** rms of the ticks' feet about their line, share of a tick. */
  readonly scatter: number
  /** Is a candidate one of its ticks, or written on it beyond them? */
  readonly owns: (line: Pick<Candidate, 'p0' | 'p1'>) => boolean
  /** Does a candidate stand on the line of its ticks, be it beyond their ends? */
  readonly inLine: (line: Pick<Candidate, 'p0' | 'p1'>) => boolean
  /** Does a line lie beyond the ends of its ticks, where its numbers and its maker's words are? */
  readonly isBeyond: (line: Pick<Candidate, 'p0' | 'p1'>) => boolean
  /** May a candidate be a mark that it was laid beside: across it, short and near as compared with its own length? */
  readonly isBeside: (line: Pick<Candidate, 'p0' | 'p1'>) => boolean
}

const LEAST_TICKS = 20
const MOST_SPREAD = 0.08
const LEAST_FILLED = 0.6
/** Print is more even than this, in steps, where it is seen so closely (motors place their full steps to some 3 to 5 %; common practice, no source); a tick's place in the searched picture is good to so many px. */
const PRINTED = 0.03
const SEEN_PX = 0.7
/** A hand does not begin its strokes on one line more closely than this share of their length (common practice, no source). */
const MOST_SCATTER = 0.07

const feetAndTips = (tick: Rung, row: Row, end: 'low' | 'high'): readonly [foot: Point, tip: Point] => {
  const height = ([x, y]: Point): number => y * row.along[0] - x * row.along[1]
  const { p0, p1 } = tick.candidate
  return (height(p0) < height(p1)) === (end === 'low') ? [p0, p1] : [p1, p0]
}

const seenTicks = ({ ticks, end }: TickRow, { members, index, steps }: EvenTicks, row: Row): SeenTick[] =>
  members.map((m, i) => {
    const [foot, tip] = feetAndTips(ticks[m] as Rung, row, end)
    return { index: index[i] as number, foot, tip, stepPx: steps[i] as number }
  })

/** Marks are no longer than this share of what is seen of it, and their row no farther from it (of 8 cm: 1.6 and 4; common practice, no source). */
const MOST_STROKE = 0.2
const MOST_AWAY = 0.5

/** Numbers are written within this many times the longest tick beyond the line. */
const NUMBERS = 2.4

const reachOf = ({ map, ticks }: RulerFit, lengths: readonly number[]): Pick<Ruler, 'owns' | 'inLine' | 'isBeyond' | 'isBeside'> => {
  const [usual, longest] = [median(lengths), longestOf(lengths)]
  const side = Math.sign(ticks.reduce((s, { foot, tip }) => s + Math.sign(toPlane(map, tip)[1] - toPlane(map, foot)[1]), 0)) || 1
  const [first, last] = [Math.min(...ticks.map((t) => t.index)), Math.max(...ticks.map((t) => t.index))]
  const heights = ({ p0, p1 }: Pick<Candidate, 'p0' | 'p1'>): number[] => [p0, p1].map((p) => side * toPlane(map, p)[1]).sort((a, b) => a - b)
  return {
    owns: (line) => {
      const [near, far] = heights(line) as [number, number]
      const x = (toPlane(map, line.p0)[0] + toPlane(map, line.p1)[0]) / 2
      return x > first - longest && x < last + longest && near > -0.35 * usual && far < NUMBERS * longest
    },
    inLine: (line) => {
      const [near, far] = heights(line) as [number, number]
      return near > -usual / 2 && near < usual / 2 && far > usual / 2 && far < 1.5 * longest
    },
    isBeyond: (line) => (heights(line)[0] as number) > usual,
    isBeside: ({ p0, p1 }) => {
      const [a, b] = [toPlane(map, p0), toPlane(map, p1)]
      const [along, across] = [Math.abs(b[0] - a[0]), Math.abs(b[1] - a[1])]
      return across > along && across < MOST_STROKE * (last - first) && Math.abs(a[1] + b[1]) < 2 * MOST_AWAY * (last - first)
    },
  }
}

/** Ticks at most so many steps apart make a run. */
const RUN = 3

/** The longest run of ticks in which few are missing: numbered surely, where others may be a step off. */
const longestRun = (ticks: readonly SeenTick[]): readonly SeenTick[] => {
  const order = [...ticks].sort((a, b) => a.index - b.index)
  let [best, from]: [readonly SeenTick[], number] = [[], 0]
  order.forEach((tick, i) => {
    if (i > 0 && tick.index - (order[i - 1] as SeenTick).index > RUN) from = i
    if (i + 1 - from > best.length) best = order.slice(from, i + 1)
  })
  return best.length < LEAST_TICKS ? ticks : best
}

/** What the lengths of a ruler's ticks say about its scale. */
export const lengthsOf = (fit: RulerFit): TickLengths => tickLengths(tickLengthsOf(fit).map(Math.abs), fit.ticks.map((t) => t.index))

/**
 * @param fit to the ticks' outlines
 * @param scatter rms of the ticks' feet about their line, share of a tick
 * @param finer the fit to where their ink is balanced, where that could be seen
 * @returns null where the ticks are less even than print
 */
export const rulerOf = (fit: RulerFit, scatter: number, finer: RulerFit | null): Ruler | null => {
  const spread = unevenness(fit)
  if (spread > Math.max(PRINTED, SEEN_PX / median(fit.ticks.map((t) => t.stepPx)))) return null
  return { ...fit, ...(finer === null ? {} : { map: finer.map, alternatives: finer.alternatives, rmsPx: finer.rmsPx }), lengths: lengthsOf(fit), spread, scatter, ...reachOf(fit, tickLengthsOf(fit).map(Math.abs)) }
}

/** Are enough of a ruler's ticks measured closely to be its map? */
export const isMost = (measured: readonly SeenTick[], ticks: readonly SeenTick[]): boolean => measured.length >= 0.7 * ticks.length

/** The fit to where the ticks' ink is balanced; null where few of them show that. */
const balanced = (raster: Raster, fit: RulerFit): RulerFit | null => {
  const finer = fitRuler(measureTicks(raster, fit), raster)
  return finer === null || !isMost(finer.ticks, fit.ticks) ? null : finer
}

const rulerAt = (row: Row, ticks: TickRow, raster: Raster): Ruler | null => {
  const placeOf = ([x, y]: Point): number => x * row.along[0] + y * row.along[1]
  const feet = ticks.ticks.map((tick) => ({ tick, place: placeOf(feetAndTips(tick, row, ticks.end)[0]) })).sort((a, b) => a.place - b.place)
  const grid = evenTicks(feet.map((f) => f.place))
  if (grid === null || grid.members.length < LEAST_TICKS || grid.spread > MOST_SPREAD || grid.filled < LEAST_FILLED) return null
  if (grid.members.length < 0.7 * ticks.ticks.length || ticks.scatter > MOST_SCATTER) return null
  const part = fitRuler(longestRun(seenTicks({ ...ticks, ticks: feet.map((f) => f.tick) }, grid, row)), raster)
  if (part === null || part.ticks.length < LEAST_TICKS) return null
  const fit = wholeRuler(part, row.rungs.map(({ candidate: { p0, p1 } }) => [p0, p1]), raster)
  return rulerOf(fit, ticks.scatter, balanced(raster, fit))
}

/**
 * A ruler drawn, printed or laid beside the marks: fine strokes that begin on one line and are even but for perspective.
 * @param candidates every thin straight line on the paper, marks and numbers among them
 * @param usual depth of the picture's darker lines
 * @returns null when there is none with at least twenty ticks in view
 */
export const findRuler = (raster: Raster, candidates: readonly Candidate[], usual: number): Ruler | null => {
  const row = findRow(notRuled(candidates, raster), photoPlane, usual)
  if (row === null || row.rungs.length < LEAST_TICKS) return null
  const rulers = tickRows(row.rungs, workingFactor(raster)).flatMap((ticks) => rulerAt(row, ticks, raster) ?? [])
  return rulers.sort((a, b) => b.ticks.length - a.ticks.length)[0] ?? null
}
