import type { EllipseShape } from './ellipse.ts'
import type { Homography } from './homography.ts'

type Pair = readonly [x: number, y: number]

/**
 * The map of the plane that turns a circle's image back into a circle about the image of its own centre: it takes the ellipse to the
 * circle of the ellipse's mean radius √(a·b) about the origin, and `centre` to the origin. Unique but for a turn about the origin, which is set
 * so that the plane is stretched, not turned, at the centre.
 *
 * With the centre at the origin, the conic pᵀ·Q·p + 2·qᵀ·p + s = 0 (s < 0 inside) has the polar line 1 + w·p = 0, w = q/s:
 * the vanishing line of the plane, as the centre of a circle is the pole of the line at infinity (Hartley & Zisserman, Multiple View Geometry,
 * 2nd ed., 2.2 and 8.6). The rest is the 2 × 2 matrix B with Bᵀ·B = Q/(−s) + q·qᵀ/s², and X = B·p/(1 + w·p).
 *
 * A centre that is off by e of the circle's radius leaves angles about it right to order e²: what it moves is first of all radial.
 * @returns null when the centre is not inside the ellipse
 */
export const circleHomography = ({ centre: [ex, ey], shape: [xx, xy, yy] }: EllipseShape, [cx, cy]: Pair): Homography | null => {
  const determinant = xx * yy - xy * xy
  const [sxx, sxy, syy] = [(yy * yy + xy * xy) / determinant ** 2, (-xy * (xx + yy)) / determinant ** 2, (xx * xx + xy * xy) / determinant ** 2]
  const [dx, dy] = [ex - cx, ey - cy]
  const [qx, qy] = [-(sxx * dx + sxy * dy), -(sxy * dx + syy * dy)]
  const inside = 1 + qx * dx + qy * dy
  if (!(inside > 0)) return null
  const [wx, wy] = [-qx / inside, -qy / inside]
  const [m, n, p] = [sxx / inside + wx * wx, sxy / inside + wx * wy, syy / inside + wy * wy]
  // Symmetric root of [[m, n], [n, p]].
  const root = Math.sqrt(m * p - n * n)
  const trace = Math.sqrt(m + p + 2 * root)
  const size = Math.sqrt(determinant) / trace
  const [a, b, d] = [size * (m + root), size * n, size * (p + root)]
  const last = 1 - wx * cx - wy * cy
  const rows = [a, b, -a * cx - b * cy, b, d, -b * cx - d * cy, wx, wy, last]
  return rows.map((v) => v / last) as unknown as Homography
}
