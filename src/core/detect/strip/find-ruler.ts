import type { Candidate } from '#core/detect/line/candidate'
import { notRuled } from '#core/detect/line/long-lines'
import { workingFactor } from '#core/detect/plane'
import { photoPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { median } from '#core/numeric/median'
import { findRow, type Row, type Rung } from './find-row.ts'
import { type EvenTicks, evenTicks } from './even-ticks.ts'
import { type Ruler, rulerFrom } from './ruler.ts'
import { fitRuler, type RulerFit, type SeenTick } from './ruler-map.ts'
import { type TickRow, tickRows } from './tick-row.ts'

const LEAST_TICKS = 20
const MOST_SPREAD = 0.08
const LEAST_FILLED = 0.6
/** A hand does not begin its strokes on one line more closely than this share of their length (common practice, no source). */
const MOST_SCATTER = 0.07
/** Ends are seen so badly, px of the searched picture. */
const END_PX = 1.5

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

/** Ticks at most so many steps apart make a run, and so many tell where the others are. */
const RUN = 3
const LEAST_RUN = 7

/** The longest run of ticks in which few are missing: numbered surely, where others may be a step off. */
const longestRun = (ticks: readonly SeenTick[]): readonly SeenTick[] => {
  const order = [...ticks].sort((a, b) => a.index - b.index)
  let [best, from]: [readonly SeenTick[], number] = [[], 0]
  order.forEach((tick, i) => {
    if (i > 0 && tick.index - (order[i - 1] as SeenTick).index > RUN) from = i
    if (i + 1 - from > best.length) best = order.slice(from, i + 1)
  })
  return best.length < LEAST_RUN ? ticks : best
}

const partAt = (row: Row, ticks: TickRow, raster: Raster): RulerFit | null => {
  const placeOf = ([x, y]: Point): number => x * row.along[0] + y * row.along[1]
  const feet = ticks.ticks.map((tick) => ({ tick, place: placeOf(feetAndTips(tick, row, ticks.end)[0]) })).sort((a, b) => a.place - b.place)
  const grid = evenTicks(feet.map((f) => f.place))
  if (grid === null || grid.members.length < LEAST_TICKS || grid.spread > MOST_SPREAD || grid.filled < LEAST_FILLED) return null
  const length = median(ticks.ticks.map((t) => t.high - t.low))
  if (grid.members.length < 0.7 * ticks.ticks.length || ticks.scatter > Math.max(MOST_SCATTER, (END_PX * workingFactor(raster)) / length)) return null
  return fitRuler(longestRun(seenTicks({ ...ticks, ticks: feet.map((f) => f.tick) }, grid, row)), raster)
}

/**
 * Parts of what may be rulers drawn, printed or laid beside the marks, the fullest first: fine strokes that begin on one line and are
 * even but for perspective.
 * @param candidates every thin straight line on the paper, marks and numbers among them
 * @param usual depth of the picture's darker lines
 */
export const evenRows = (raster: Raster, candidates: readonly Candidate[], usual: number): RulerFit[] => {
  const row = findRow(notRuled(candidates, raster), photoPlane, usual)
  return row === null || row.rungs.length < LEAST_TICKS ? [] : tickRows(row.rungs, workingFactor(raster)).flatMap((ticks) => partAt(row, ticks, raster) ?? [])
}

/** The ruler of which the fullest such part is; null where there is none. */
export const findRuler = (raster: Raster, candidates: readonly Candidate[], usual: number): Ruler | null => {
  for (const part of evenRows(raster, candidates, usual)) {
    const ruler = rulerFrom(raster, part)
    if (ruler !== null) return ruler
  }
  return null
}
