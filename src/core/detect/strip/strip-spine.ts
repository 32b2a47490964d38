import type { Rung } from './strip-candidates.ts'

/** Rise of the row against the strokes' upright: hands slant their strokes by up to some 25° (common practice, no source). */
const STEEPEST = 0.5

/**
 * Height h = a + b·place that passes through the most rungs, each weighed by its darkness and the square of its length: a printed ruler has more
 * ticks than there are marks, but shorter ones. */
export const spine = (rungs: readonly Rung[]): ((place: number) => number) => {
  let best = (_: number): number => 0
  let most = -1
  const step = Math.max(1, Math.floor(rungs.length / 60))
  for (let i = 0; i < rungs.length; i += step) {
    for (let j = 0; j < rungs.length; j += step) {
      const [p, q] = [rungs[i] as Rung, rungs[j] as Rung]
      const slope = i === j ? 0 : ((q.low + q.high - p.low - p.high) / 2) / (q.place - p.place)
      if (!(Math.abs(slope) < STEEPEST)) continue
      const at = (place: number): number => (p.low + p.high) / 2 + slope * (place - p.place)
      const worth = rungs.reduce((sum, r) => sum + (at(r.place) > r.low && at(r.place) < r.high ? r.candidate.depth * (r.high - r.low) ** 2 : 0), 0)
      if (worth > most) {
        most = worth
        best = at
      }
    }
  }
  return best
}
