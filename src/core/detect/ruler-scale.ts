import type { Rung } from './strip-candidates.ts'

/** A printed ruler's scale. */
export interface RulerScale {
  /** Plane units per millimetre. */
  readonly perMm: number
  /** Standard uncertainty relative to it. */
  readonly relative: number
  readonly ticks: number
}

const LEAST_TICKS = 20

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN

/** Ticks whose inner or outer ends stand on one line, as a ruler's do; by the end that more of them share. */
const onOneLine = (rungs: readonly Rung[], end: (r: Rung) => number): Rung[] => {
  let best: Rung[] = []
  const step = Math.max(1, Math.floor(rungs.length / 50))
  for (let i = 0; i < rungs.length; i += step) {
    for (let j = i + step; j < rungs.length; j += step) {
      const [p, q] = [rungs[i] as Rung, rungs[j] as Rung]
      const slope = (end(q) - end(p)) / (q.place - p.place)
      if (!(Math.abs(slope) < 0.1)) continue
      const near = rungs.filter((r) => Math.abs(end(r) - end(p) - slope * (r.place - p.place)) < 0.2 * (r.high - r.low))
      if (near.length > best.length) best = near
    }
  }
  return best
}

interface Grid {
  readonly step: number
  readonly u: number
  readonly index: readonly number[]
}

/** Even grid through the places: step from the median gap, then least squares on the whole numbers. */
const evenGrid = (places: readonly number[]): Grid | null => {
  const gaps = places.slice(1).map((p, i) => p - (places[i] as number))
  let step = median(gaps)
  let index: number[] = []
  let u = 0
  for (let round = 0; round < 4; round++) {
    index = [0]
    gaps.forEach((gap, i) => index.push((index[i] as number) + Math.round(gap / step)))
    const n = places.length
    const mi = index.reduce((s, v) => s + v, 0) / n
    const mp = places.reduce((s, v) => s + v, 0) / n
    const ii = index.reduce((s, v) => s + (v - mi) ** 2, 0)
    step = index.reduce((s, v, k) => s + (v - mi) * ((places[k] as number) - mp), 0) / ii
    const left = places.map((p, k) => p - mp - step * ((index[k] as number) - mi))
    const spread = Math.sqrt(left.reduce((s, v) => s + v * v, 0) / Math.max(1, n - 2))
    if (spread > 0.2 * step) return null
    u = spread / Math.sqrt(ii)
  }
  return { step, u, index }
}

/** Every tenth tick is longer than its neighbours: the ruler is in millimetres. */
const everyTenthIsLong = (lengths: readonly number[], index: readonly number[]): boolean => {
  const means = Array.from({ length: 10 }, (_, k) => median(lengths.filter((__, i) => (index[i] as number) % 10 === k)))
  const usual = median(means)
  return means.filter((m) => m > 1.25 * usual).length >= 1 && means.filter((m) => m > 1.25 * usual).length <= 3
}

/**
 * Scale of a millimetre ruler printed beside the marks: evenly spaced ticks on a common line, every tenth (and fifth) longer.
 * @param rungs parallel strokes that are no marks
 * @returns null when there is no such ruler
 */
export const rulerScale = (rungs: readonly Rung[]): RulerScale | null => {
  const rows = [onOneLine(rungs, (r) => r.low), onOneLine(rungs, (r) => r.high)].sort((a, b) => b.length - a.length)
  const ticks = [...(rows[0] ?? [])].sort((a, b) => a.place - b.place)
  const single = ticks.filter((t, i) => i === 0 || t.place - (ticks[i - 1] as Rung).place > 0.5 * t.width)
  if (single.length < LEAST_TICKS) return null
  const grid = evenGrid(single.map((t) => t.place))
  if (grid === null || !everyTenthIsLong(single.map((t) => t.high - t.low), grid.index)) return null
  return { perMm: grid.step, relative: Math.hypot(grid.u / grid.step, 5e-4), ticks: single.length }
}
