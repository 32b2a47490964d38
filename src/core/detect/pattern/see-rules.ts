import type { Picture } from '#core/detect/raster'
import { focalPx } from '#core/detect/lens'
import type { Homography } from '#core/numeric/homography'
import { cross, times, type Vector3 } from '#core/numeric/vector3'

/** A row of a homography as it acts on rays from the camera, (x, y) / f and 1: f in px, x and y from the picture's middle. */
const onRays = ([a, b, c]: Vector3, { width, height }: Picture, f: number): Vector3 => [f * a, f * b, (a * (width - 1)) / 2 + (b * (height - 1)) / 2 + c]

const onPixels = ([p, q, r]: Vector3, { width, height }: Picture, f: number): Vector3 => [p / f, q / f, r - (p * (width - 1) + q * (height - 1)) / (2 * f)]

/** The plane's normal, pointing away from the camera, from the image of its line at infinity; of any length. */
const normalOf = ([, , , , , , g, h, i]: Homography, picture: Picture, f: number): Vector3 => {
  const [x, y, z] = onRays([g, h, i], picture, f)
  return times(Math.sign(z), [x, y, z])
}

/**
 * The plane of evenly spaced lines as a camera of known focal length sees it: they tell the image of the line at infinity, the focal length
 * makes that the slant, and so how long a unit across the lines is along them.
 * @param lines px (ideal) → x counts lines, whatever y is: see fitEvenLines
 * @param lnFocal ln of the focal length over what the picture tells, or over the usual one
 * @returns the same with y at right angles to x and of its unit
 */
export const seeRules = (lines: Homography, picture: Picture, lnFocal: number): Homography => {
  const f = focalPx(picture) * Math.exp(lnFocal)
  const [a, b, c, , , , g, h, i] = lines
  const normal = normalOf(lines, picture, f)
  const along = times(1 / Math.hypot(...normal), cross(normal, onRays([a, b, c], picture, f)))
  return [a, b, c, ...onPixels(along, picture, f), g, h, i]
}

/** Cosine of the angle at which the camera sees the plane; its line at infinity is all of the map that counts. */
export const cosTiltOf = (map: Homography, picture: Picture): number => {
  const normal = normalOf(map, picture, focalPx(picture))
  return normal[2] / Math.hypot(...normal)
}
