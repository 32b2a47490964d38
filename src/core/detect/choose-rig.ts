import { strokesInRow } from '#core/detect/strip/row-score'
import type { Candidate } from './candidate.ts'
import type { Hints } from './detection.ts'
import type { Raster } from './raster.ts'
import type { Surface } from './surface.ts'
import { usualDepth, voteCentre } from './vote-centre.ts'

/** A row must beat the best centre by this factor, and have at least this many marks. */
const CLEARLY = 1.5
const LEAST_ROW = 5

/**
 * Do the marks stand round a shaft or in a row? Given, printed on the sheet, or told from the photo: clearly more strokes in one
 * row than aim at any one point.
 */
export const chooseRig = (raster: Raster, candidates: readonly Candidate[], surface: Surface, hints: Hints): 'pointer' | 'mirror' => {
  if (hints.rig !== undefined) return hints.rig
  if (surface.sheet !== null) return surface.sheet.rig
  if (hints.centrePx !== undefined) return 'pointer'
  const usual = usualDepth(candidates)
  const inRow = strokesInRow(candidates, surface.map, usual)
  if (inRow < LEAST_ROW) return 'pointer'
  return inRow > CLEARLY * (voteCentre(candidates, raster.width, raster.height)?.score ?? 0) ? 'mirror' : 'pointer'
}
