import type { Rung } from './find-row.ts'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { median } from '#core/numeric/median'
import { rms } from '#core/numeric/moments'

/** Parallel strokes that all begin on one line, as a ruler's ticks do. */
export interface TickRow {
  /** In order along the row, each place once. */
  readonly ticks: readonly Rung[]
  /** Which end stands on the common line, by its height in the row's frame. */
  readonly end: 'low' | 'high'
  /** Height of the common line at a place; bowed as the lens bows it. */
  readonly line: (place: number) => number
  /** rms height of the ends about it, as a share of the ticks' usual length. */
  readonly scatter: number
}

type Line = (place: number) => number

/** Height that a line may miss an end by: part of a px of the picture that was searched, and part of the tick. */
const slack = ({ low, high }: Rung, pxUnit: number): number => 2 * pxUnit + 0.04 * (high - low)

/** The straight line through two ends near most others. */
const commonLine = (rungs: readonly Rung[], heightOf: (r: Rung) => number, pxUnit: number): Line | null => {
  let best: Line | null = null
  let most = 0
  const step = Math.max(1, Math.floor(rungs.length / 70))
  for (let i = 0; i < rungs.length; i += step) {
    for (let j = i + step; j < rungs.length; j += step) {
      const [p, q] = [rungs[i] as Rung, rungs[j] as Rung]
      const slope = (heightOf(q) - heightOf(p)) / (q.place - p.place)
      if (!(Math.abs(slope) < 0.3)) continue
      const line = (place: number): number => heightOf(p) + slope * (place - p.place)
      let count = 0
      for (const r of rungs) if (Math.abs(heightOf(r) - line(r.place)) < 1.5 * slack(r, pxUnit)) count++
      if (count > most) {
        most = count
        best = line
      }
    }
  }
  return best
}

/** h = a + b·t + c·t² by least squares about the mean place, t in units of the half span; a straight line for fewer than eight. */
const bowed = (rungs: readonly Rung[], heightOf: (r: Rung) => number): Line => {
  const mean = rungs.reduce((s, r) => s + r.place, 0) / rungs.length
  const half = Math.max(1e-9, ...rungs.map((r) => Math.abs(r.place - mean)))
  const basis = (t: number): number[] => [1, t, t * t - 1 / 3].slice(0, rungs.length < 8 ? 2 : 3)
  const rows = rungs.map((r) => basis((r.place - mean) / half))
  const c = linearLeastSquares(basis(0).map((_, k) => rows.map((row) => row[k] as number)), rungs.map(heightOf))?.coefficients ?? []
  return (place) => basis((place - mean) / half).reduce((s, f, i) => s + f * (c[i] ?? 0), 0)
}

/** Of several strokes at one place the one whose width is most usual. */
const eachPlaceOnce = (rungs: readonly Rung[]): Rung[] => {
  const usual = median(rungs.map((r) => r.width))
  const odd = (r: Rung): number => Math.abs(Math.log(r.width / usual))
  const kept: Rung[] = []
  for (const rung of [...rungs].sort((a, b) => a.place - b.place)) {
    const last = kept[kept.length - 1]
    if (last === undefined || rung.place - last.place > 0.6 * usual) kept.push(rung)
    else if (odd(rung) < odd(last)) kept[kept.length - 1] = rung
  }
  return kept
}

const rowAt = (rungs: readonly Rung[], end: 'low' | 'high', pxUnit: number): TickRow | null => {
  const heightOf = (r: Rung): number => r[end]
  let line = commonLine(rungs, heightOf, pxUnit)
  if (line === null) return null
  let on: Rung[] = []
  for (let round = 0; round < 4; round++) {
    const current = line
    on = rungs.filter((r) => Math.abs(heightOf(r) - current(r.place)) < (round === 0 ? 1.5 : 1) * slack(r, pxUnit))
    if (on.length < 6) return null
    line = bowed(on, heightOf)
  }
  const settled = line
  const width = median(on.map((r) => r.width))
  const ticks = eachPlaceOnce(on.filter((r) => r.width < 1.7 * width && r.width > 0.5 * width))
  if (ticks.length < 6) return null
  const off = ticks.map((r) => heightOf(r) - settled(r.place))
  return { ticks, end, line: settled, scatter: rms(off) / median(ticks.map((r) => r.high - r.low)) }
}

/** The fullest row by one end, then the fullest of what is left: marks may share a line by chance more often than a ruler has ticks. */
const rowsAt = (rungs: readonly Rung[], end: 'low' | 'high', pxUnit: number): TickRow[] => {
  const first = rowAt(rungs, end, pxUnit)
  if (first === null) return []
  const taken = new Set(first.ticks)
  const second = rowAt(rungs.filter((r) => !taken.has(r)), end, pxUnit)
  return second === null ? [first] : [first, second]
}

/**
 * The rows of strokes that begin on a common line: the two fullest by their lower and by their upper ends.
 * @param pxUnit plane units of a px of the picture the strokes were searched in
 */
export const tickRows = (rungs: readonly Rung[], pxUnit: number): TickRow[] =>
  (['low', 'high'] as const).flatMap((end) => rowsAt(rungs, end, pxUnit)).sort((a, b) => b.ticks.length - a.ticks.length)
