import type { Point } from '#core/detect/raster'
import type { SheetPayload } from './payload.ts'
import type { PaperName, SheetRig } from './shape.ts'

/** A place on the printed sheet: mm, x right, y down as printed; origin at the shaft centre (pointer) or at tick 0 (strip). */
export type SheetPoint = readonly [xMm: number, yMm: number]

/** Row-major 3 × 3 matrix; the last element is 1. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number]

/** One term of lens distortion: seen = centre + (ideal − centre)·(1 + k·ρ²), ρ = |ideal − centre| / scalePx. */
export interface RadialTerm {
  readonly k: number
  readonly uK: number
  readonly centrePx: Point
  /** Half the picture's diagonal, px. */
  readonly scalePx: number
}

/** A reference target as it was found. */
export interface TargetSeen {
  readonly id: number
  readonly page: number
  readonly mm: SheetPoint
  /** Image of the target's true centre (the ellipse's own centre, less its perspective offset), px. */
  readonly px: Point
  /** Measured minus fitted, px. */
  readonly residualPx: Point
  /** False: left out of the fit because it did not agree with the others. */
  readonly used: boolean
}

/** A printed sheet located in a photo. Plain data; to-paper.ts has its two mappings. */
export interface SheetFix {
  readonly kind: 'sheet-fix'
  readonly rig: SheetRig
  readonly paper: PaperName
  /** Pages (tiles) that are in view, by their column and row from the page that holds the shaft. */
  readonly pages: readonly { readonly page: number; readonly column: number; readonly row: number }[]
  /** Sheet mm → ideal (undistorted) px. */
  readonly homography: Matrix3
  /** Ideal px → sheet mm. */
  readonly inverse: Matrix3
  /** Null when the residuals do not support it. */
  readonly radial: RadialTerm | null
  readonly targets: readonly TargetSeen[]
  /** rms length of the residuals of the targets used, per coordinate. */
  readonly residualRmsPx: number
  readonly residualRmsMm: number
  /** Standard uncertainty that the rectification leaves in one angle at `referenceRadiusMm`, deg; for a strip in a position, mm. */
  readonly rectificationU: number
  readonly referenceRadiusMm: number
  /** Image of the printed centre (pointer) or of tick 0 (strip), px. */
  readonly centrePx: Point
  /** Covariance of centrePx, px²: [xx, xy, yy]. */
  readonly centreCovariancePx: readonly [number, number, number]
  readonly pixelsPerMm: number
  /** What the sheet's code said; null until it is read (see with-payload.ts). */
  readonly payload: SheetPayload | null
}
