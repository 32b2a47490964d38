import type { Point } from '#core/detect/raster'
import { applyHomography, type Homography } from '#core/numeric/homography'

/** Pinhole camera (focal length px, axis at `axis`) over a plane tilted by `tiltDeg` about a line at `leanDeg`, its origin `away` focal lengths off, at `place` px. */
export const tiltedPlane = ({ focal, axis, tiltDeg, leanDeg, place, scale }: { readonly focal: number; readonly axis: Point; readonly tiltDeg: number; readonly leanDeg: number; readonly place: Point; readonly scale: number }): Homography => {
  const [t, l] = [(tiltDeg * Math.PI) / 180, (leanDeg * Math.PI) / 180]
  const [c, s] = [Math.cos(l), Math.sin(l)]
  // Rows of the plane's two directions in camera space: along the tilt's line, and across it.
  const u = [c, s, 0] as const
  const v = [-s * Math.cos(t), c * Math.cos(t), Math.sin(t)] as const
  const depth = focal / scale
  const origin = [((place[0] - axis[0]) / focal) * depth, ((place[1] - axis[1]) / focal) * depth, depth] as const
  const row = (i: 0 | 1): readonly number[] => [u[i], v[i], origin[i]].map((value, k) => focal * value + axis[i] * ([u[2], v[2], origin[2]][k] as number))
  return [...row(0), ...row(1), u[2], v[2], origin[2]] as unknown as Homography
}

export const onPhoto = (plane: Homography, radius: number, bearingDeg: number, [x, y]: Point = [0, 0]): Point => {
  const a = (bearingDeg * Math.PI) / 180
  return applyHomography(plane, [x + radius * Math.cos(a), y - radius * Math.sin(a)])
}
