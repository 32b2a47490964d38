import type { EllipseShape } from '#core/numeric/ellipse'
import { symmetricEigen } from '#core/numeric/symmetric-eigen'
import type { Point } from '#core/detect/raster'

/**
 * Where a pinhole camera images the centre of a circle that it sees as this ellipse: two places, as two planes cut a cone in a circle
 * (closed form over the cone's eigenvectors; Kanatani & Liu, CVGIP: Image Understanding 58 (1993) 286, from memory).
 * @param focal px
 * @param axis where the optical axis meets the picture, px
 */
export const imagedCentres = ({ centre, shape: [xx, xy, yy] }: EllipseShape, focal: number, axis: Point): readonly [Point, Point] => {
  const determinant = (xx * yy - xy * xy) ** 2
  const unit = focal * focal
  const [a, b, c] = [(unit * (yy * yy + xy * xy)) / determinant, (-unit * xy * (xx + yy)) / determinant, (unit * (xx * xx + xy * xy)) / determinant]
  const [dx, dy] = [(centre[0] - axis[0]) / focal, (centre[1] - axis[1]) / focal]
  const [p, q] = [-(a * dx + b * dy), -(b * dx + c * dy)]
  const cone = [[a, b, p], [b, c, q], [p, q, -p * dx - q * dy - 1]]
  const [one, two, three] = symmetricEigen(cone) as [Eigen, Eigen, Eigen]
  const along = Math.sqrt(Math.max(0, one.value - two.value) / (one.value - three.value))
  const across = Math.sqrt(Math.max(0, two.value - three.value) / (one.value - three.value))
  const place = (sign: 1 | -1): Point => {
    // The plane's normal n = sign·along·e₁ + across·e₃; the centre's ray is Q⁻¹·n.
    const ray = [0, 1, 2].map((i) => ((sign * along) / one.value) * (one.vector[i] as number) + (across / three.value) * (three.vector[i] as number)) as [number, number, number]
    return [axis[0] + (focal * ray[0]) / ray[2], axis[1] + (focal * ray[1]) / ray[2]]
  }
  return [place(1), place(-1)]
}

type Eigen = ReturnType<typeof symmetricEigen>[number]
