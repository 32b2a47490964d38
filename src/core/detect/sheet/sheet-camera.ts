import type { Point } from '#core/detect/raster'
import { bend, type Radial } from '#core/detect/plane-map'
import { applyHomography, type Homography, homographySlopes } from '#core/numeric/homography'
import type { Place } from './page-size.ts'
import { targetMm } from './target-places.ts'

/** How the sheet's plane is seen: sheet mm → ideal px by a homography, then one term of lens distortion. */
export interface SheetCamera {
  readonly homography: Homography
  readonly radial: Radial
}

/** Where a point of the sheet is seen, px. */
export const seenAt = ({ homography, radial }: SheetCamera, point: Place): Point =>
  bend(radial, applyHomography(homography, point))

/**
 * Centre of the ellipse that a target's outer edge is seen as, px. It is not the image of the circle's centre: a conic's
 * centre is the pole of the line at infinity, which for a circle of radius R about c is the image of c − R²·v/w, v and
 * w being the homography's last row and the depth there. The lens then moves the edge's first harmonic by 3·k·R² of
 * the distance from the picture's centre.
 */
export const ringCentreAt = (camera: SheetCamera, centre: Place): Point => {
  const radiusSquaredMm = targetMm.outer ** 2
  const { homography: m, radial } = camera
  const depth = m[6] * centre[0] + m[7] * centre[1] + m[8]
  const pole: Place = [centre[0] - (radiusSquaredMm * m[6]) / depth, centre[1] - (radiusSquaredMm * m[7]) / depth]
  const ideal = applyHomography(m, pole)
  const [x, y] = bend(radial, ideal)
  if (radial.k === 0) return [x, y]
  const [a, b, c, d] = homographySlopes(camera.homography, centre)
  const moved = (3 * radial.k * radiusSquaredMm * Math.abs(a * d - b * c)) / (radial.scalePx * radial.scalePx)
  return [x + moved * (ideal[0] - radial.centrePx[0]), y + moved * (ideal[1] - radial.centrePx[1])]
}
