import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import { toPlane } from './plane-map.ts'
import type { Raster } from './raster.ts'
import { findRow, type Rung } from './strip-candidates.ts'
import type { Surface } from './surface.ts'
import { usualDepth, voteCentre } from './vote-centre.ts'

/** Slope of lean on place and its standard error, by robust least squares over the rungs of a row. */
const fanning = (rungs: readonly Rung[]): readonly [slope: number, u: number] => {
  const mean = (values: readonly number[]): number => values.reduce((s, v) => s + v, 0) / values.length
  const mx = mean(rungs.map((r) => r.place))
  const my = mean(rungs.map((r) => r.lean))
  const xx = rungs.reduce((s, r) => s + (r.place - mx) ** 2, 0)
  const slope = rungs.reduce((s, r) => s + (r.place - mx) * (r.lean - my), 0) / xx
  const left = rungs.reduce((s, r) => s + (r.lean - my - slope * (r.place - mx)) ** 2, 0)
  return [slope, Math.sqrt(left / Math.max(1, rungs.length - 2) / xx)]
}

/**
 * Do the marks stand round a shaft or in a row? Given, printed on the sheet, or told from the photo: many strokes of one direction
 * that do not fan out, and more of them than aim at any one point.
 */
export const chooseRig = (raster: Raster, candidates: readonly Candidate[], surface: Surface, hints: Hints): 'pointer' | 'mirror' => {
  if (hints.rig !== undefined) return hints.rig
  if (surface.sheet !== null) return surface.sheet.rig
  if (hints.centrePx !== undefined) return 'pointer'
  const usual = usualDepth(candidates)
  const row = findRow(candidates, surface.map, usual)
  if (row === null) return 'pointer'
  const dark = row.rungs.filter((r) => r.candidate.depth > 0.35 * usual)
  const places = new Set(dark.map((r) => Math.round(r.place / (1.5 * r.width)))).size
  const vote = voteCentre(candidates, raster.width, raster.height)
  if (vote === null) return places >= 3 ? 'mirror' : 'pointer'
  if (places < 5 || places < 0.8 * vote.score) return 'pointer'
  const [slope, u] = fanning(dark)
  const [x, y] = toPlane(surface.map, vote.centrePx)
  const radius = Math.min(...dark.map((r) => Math.hypot(toPlane(surface.map, r.candidate.middle)[0] - x, toPlane(surface.map, r.candidate.middle)[1] - y)))
  // Marks round a shaft at this distance would fan by 1/radius per unit of row.
  return Math.abs(slope) > 4 * u && Math.abs(slope) > 0.3 / (3 * radius) ? 'pointer' : 'mirror'
}
