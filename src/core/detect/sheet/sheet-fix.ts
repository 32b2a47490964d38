import type { PlaneMap, Radial } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import type { SheetPayload } from './payload.ts'
import type { PaperName, Place, SheetRig } from './page-size.ts'

/** The lens's term and its standard uncertainty. */
export interface RadialTerm extends Radial {
  readonly uK: number
}

/** A reference target as it was found. */
export interface TargetSeen {
  readonly page: number
  readonly mm: Place
  /** Image of the target's true centre (the ellipse's own centre, less its perspective offset), px. */
  readonly px: Point
  /** False: left out of the fit because it did not agree with the others. */
  readonly used: boolean
}

/** A printed sheet located in a photo. Plain data. */
export interface SheetFix {
  readonly kind: 'sheet-fix'
  readonly rig: SheetRig
  readonly paper: PaperName
  /** Pages (tiles) that are in view, by their column and row from the page that holds the shaft. */
  readonly pages: readonly { readonly page: number; readonly column: number; readonly row: number }[]
  /** From the photo to the sheet, mm. */
  readonly map: PlaneMap
  /** The map's; null when the residuals do not support it. */
  readonly radial: RadialTerm | null
  readonly targets: readonly TargetSeen[]
  /** Standard uncertainty that the rectification leaves in one angle at a radius of 80 mm, deg; for a strip in a position, mm. */
  readonly rectificationU: number
  /** Image of the printed centre (pointer) or of tick 0 (strip), px. */
  readonly centrePx: Point
  /** Covariance of centrePx, px²: [xx, xy, yy]. */
  readonly centreCovariancePx: readonly [number, number, number]
  readonly pixelsPerMm: number
  /** What the sheet's code said; null until it is read (see with-payload.ts). */
  readonly payload: SheetPayload | null
}
