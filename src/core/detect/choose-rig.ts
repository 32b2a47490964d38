import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import type { Raster } from './raster.ts'
import { findRow, type Rung } from './strip-candidates.ts'
import { spine } from './strip-spine.ts'
import type { Surface } from './surface.ts'
import { usualDepth, voteCentre } from './vote-centre.ts'

/** A row must beat the best centre by this factor, and have at least this many marks. */
const CLEARLY = 1.5
const LEAST_ROW = 5

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

/** Marks standing in one row: dark strokes of like length that one line passes through, each place once. */
const rowScore = (rungs: readonly Rung[], usual: number): number => {
  const dark = rungs.filter((r) => r.candidate.depth > 0.4 * usual)
  const line = spine(dark)
  const through = dark.filter((r) => line(r.place) > r.low && line(r.place) < r.high)
  const length = median(through.map((r) => r.high - r.low))
  const alike = through.filter((r) => r.high - r.low > 0.5 * length && r.high - r.low < 2 * length)
  return new Set(alike.map((r) => Math.round(r.place / (1.5 * r.width)))).size
}

/**
 * Do the marks stand round a shaft or in a row? Given, printed on the sheet, or told from the photo: clearly more strokes in one
 * row than aim at any one point.
 */
export const chooseRig = (raster: Raster, candidates: readonly Candidate[], surface: Surface, hints: Hints): 'pointer' | 'mirror' => {
  if (hints.rig !== undefined) return hints.rig
  if (surface.sheet !== null) return surface.sheet.rig
  if (hints.centrePx !== undefined) return 'pointer'
  const usual = usualDepth(candidates)
  const row = findRow(candidates, surface.map, usual)
  const inRow = row === null ? 0 : rowScore(row.rungs, usual)
  if (inRow < LEAST_ROW) return 'pointer'
  return inRow > CLEARLY * (voteCentre(candidates, raster.width, raster.height)?.score ?? 0) ? 'mirror' : 'pointer'
}
