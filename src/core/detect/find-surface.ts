import { cornersSurface } from '#core/detect/paper/corners-surface'
import { paperSurface } from '#core/detect/paper/paper-surface'
import { partialSurface } from '#core/detect/paper/partial-surface'
import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { sheetSurface } from '#core/detect/sheet/sheet-surface'
import type { Hints } from './detection.ts'
import type { Point, Raster } from './raster.ts'
import { bareSurface, type Surface } from './surface.ts'

/**
 * Down the ladder: a printed sheet, corners given, a sheet of paper found, one that reaches out of the picture, nothing.
 * @param blank outline of a sheet of paper in the picture that bears no marks
 */
export const findSurface = (raster: Raster, hints: Hints, sheet: SheetFix | null, blank: readonly Point[] | null = null): Surface =>
  (sheet === null ? null : sheetSurface(sheet)) ??
  cornersSurface(raster, hints) ??
  paperSurface(raster, hints, blank) ??
  (blank === null ? partialSurface(raster, hints) : null) ??
  bareSurface
