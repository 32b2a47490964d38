import type { Point } from '#core/detect/raster'
import { applyHomography, type Homography } from '#core/numeric/homography'
import type { RadialTerm, SheetPoint } from './sheet-fix.ts'
import { targetMm } from './target-shapes.ts'

/** How the sheet's plane is seen: sheet mm → ideal px by a homography, then one term of lens distortion. */
export interface SheetCamera {
  readonly homography: Homography
  readonly radial: Pick<RadialTerm, 'k' | 'centrePx' | 'scalePx'>
}

/** Ideal px → px as seen. */
export const distort = ({ k, centrePx, scalePx }: SheetCamera['radial'], [x, y]: Point): Point => {
  const [dx, dy] = [x - centrePx[0], y - centrePx[1]]
  const stretch = 1 + (k * (dx * dx + dy * dy)) / (scalePx * scalePx)
  return [centrePx[0] + dx * stretch, centrePx[1] + dy * stretch]
}

/** Px as seen → ideal px, by Newton's steps on the radius; exact to rounding for |k| below 0.25 inside the picture. */
export const undistort = ({ k, centrePx, scalePx }: SheetCamera['radial'], [x, y]: Point): Point => {
  const [dx, dy] = [x - centrePx[0], y - centrePx[1]]
  const seen = Math.hypot(dx, dy) / scalePx
  let ideal = seen
  for (let step = 0; step < 8; step++) ideal -= (ideal * (1 + k * ideal * ideal) - seen) / (1 + 3 * k * ideal * ideal)
  const shrink = seen > 0 ? ideal / seen : 1
  return [centrePx[0] + dx * shrink, centrePx[1] + dy * shrink]
}

/** Where a point of the sheet is seen, px. */
export const seenAt = ({ homography, radial }: SheetCamera, point: SheetPoint): Point =>
  distort(radial, applyHomography(homography, point))

/** Derivatives of the ideal px by the sheet's mm at a point: [∂x/∂X, ∂x/∂Y, ∂y/∂X, ∂y/∂Y]. */
export const scaleAt = ({ homography: m }: Pick<SheetCamera, 'homography'>, point: SheetPoint): readonly [number, number, number, number] => {
  const w = m[6] * point[0] + m[7] * point[1] + m[8]
  const [x, y] = applyHomography(m, point)
  return [(m[0] - x * m[6]) / w, (m[1] - x * m[7]) / w, (m[3] - y * m[6]) / w, (m[4] - y * m[7]) / w]
}

/**
 * Centre of the ellipse that a target's outer edge is seen as, px. It is not the image of the circle's centre: a conic's
 * centre is the pole of the line at infinity, which for a circle of radius R about c is the image of c − R²·v/w, v and
 * w being the homography's last row and the depth there. The lens then moves the edge's first harmonic by 3·k·R² of
 * the distance from the picture's centre.
 */
export const ringCentreAt = (camera: SheetCamera, centre: SheetPoint): Point => {
  const radiusSquaredMm = targetMm.outer ** 2
  const { homography: m, radial } = camera
  const depth = m[6] * centre[0] + m[7] * centre[1] + m[8]
  const pole: SheetPoint = [centre[0] - (radiusSquaredMm * m[6]) / depth, centre[1] - (radiusSquaredMm * m[7]) / depth]
  const ideal = applyHomography(m, pole)
  const [x, y] = distort(radial, ideal)
  if (radial.k === 0) return [x, y]
  const [a, b, c, d] = scaleAt(camera, centre)
  const bend = (3 * radial.k * radiusSquaredMm * Math.abs(a * d - b * c)) / (radial.scalePx * radial.scalePx)
  return [x + bend * (ideal[0] - radial.centrePx[0]), y + bend * (ideal[1] - radial.centrePx[1])]
}
