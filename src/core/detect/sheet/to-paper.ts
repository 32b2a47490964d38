import type { Point } from '#core/detect/raster'
import { applyHomography } from '#core/numeric/homography'
import { seenAt, undistort } from './sheet-camera.ts'
import type { SheetFix, SheetPoint } from './sheet-fix.ts'

const noRadial = { k: 0, centrePx: [0, 0], scalePx: 1 } as const

/** Place on the sheet (mm, y down, origin at the shaft or at tick 0) that a pixel of the upright photo shows. */
export const toPaper = ({ inverse, radial }: Pick<SheetFix, 'inverse' | 'radial'>, point: Point): SheetPoint =>
  applyHomography(inverse, radial ? undistort(radial, point) : point)

/** Pixel of the upright photo that shows a place of the sheet. */
export const toPhoto = ({ homography, radial }: Pick<SheetFix, 'homography' | 'radial'>, place: SheetPoint): Point =>
  seenAt({ homography, radial: radial ?? noRadial }, place)
