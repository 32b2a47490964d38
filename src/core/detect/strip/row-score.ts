import { findRow, type Rung } from './strip-candidates.ts'
import { spine } from './strip-spine.ts'
import type { Candidate } from '#core/detect/line/candidate'
import type { PlaneMap } from '#core/detect/plane-map'
import { medianOrZero } from '#core/numeric/median'

/** Strokes fainter than this share of the usual one are rules and squares rather than the pen's. */
const DARK = 0.4

/** The strokes that may be the pen's by their darkness. */
export const darkOf = (rungs: readonly Rung[], usual: number): Rung[] => rungs.filter((r) => r.candidate.depth > DARK * usual)

/** Marks standing in one row: dark strokes of like length that one line passes through. */
const inOneRow = (rungs: readonly Rung[], usual: number): Rung[] => {
  const dark = darkOf(rungs, usual)
  const line = spine(dark)
  const through = dark.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const length = medianOrZero(through.map((r) => r.high - r.low))
  return through.filter((r) => r.high - r.low > 0.5 * length && r.high - r.low < 2 * length)
}

/** The strokes of the fullest row. */
export const fullestRow = (candidates: readonly Candidate[], map: PlaneMap, usual: number): Rung[] => {
  const row = findRow(candidates, map, usual)
  return row === null ? [] : inOneRow(row.rungs, usual)
}

/** How many places strokes stand at. */
export const placesOf = (rungs: readonly Rung[]): number => new Set(rungs.map((r) => Math.round(r.place / (1.5 * r.width)))).size

/**
 * How many strokes stand in the fullest row.
 * @param usual depth of the picture's darker lines; much fainter strokes do not count
 */
export const strokesInRow = (candidates: readonly Candidate[], map: PlaneMap, usual: number): number => placesOf(fullestRow(candidates, map, usual))
