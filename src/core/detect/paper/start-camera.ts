import { fitLine } from '#core/numeric/fit-line'
import { cross, dot, times, type Vector3 } from '#core/numeric/vector3'
import type { Picture, Point } from '#core/detect/raster'

/** Traced places of one side of the sheet. Sides: 0 is y = 0, 1 is x = w, 2 is y = h, 3 is x = 0. */
export interface SidePoints {
  readonly side: 0 | 1 | 2 | 3
  readonly points: readonly Point[]
}

/** Where the sheet lies before the camera: x right, y down, z away; mm. */
export interface Camera {
  /** Unit vectors along the sheet's two axes. */
  readonly right: Vector3
  readonly down: Vector3
  /** The sheet's corner (0, 0). */
  readonly corner: Vector3
  /** ln of focal length over the picture's longer side. */
  readonly lnFocal: number
}

const unit = (v: Vector3): Vector3 | null => {
  const size = Math.sqrt(dot(v, v))
  return size > 1e-12 ? times(1 / size, v) : null
}

/** A vector turned by a rotation vector (Rodrigues' formula). */
export const turned = (v: Vector3, w: Vector3): Vector3 => {
  const angle = Math.sqrt(dot(w, w))
  if (angle < 1e-15) return v
  const axis = times(1 / angle, w)
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const [a, along] = [cross(axis, v), dot(axis, v) * (1 - c)]
  return [c * v[0] + s * a[0] + along * axis[0], c * v[1] + s * a[1] + along * axis[1], c * v[2] + s * a[2] + along * axis[2]]
}

/** Normal of the plane through the camera and a side: from the line through its traced places, by least squares. */
const sideNormal = (points: readonly Point[], ray: (p: Point) => Vector3): Vector3 | null => {
  const line = fitLine(points)
  if (line === null) return null
  const { point: [x, y], direction: [dx, dy] } = line
  return unit(cross(ray([x, y]), ray([x + 300 * dx, y + 300 * dy])))
}

/** Lengths along two rays that end a given step apart, by least squares. */
const depths = (r0: Vector3, r1: Vector3, step: Vector3): readonly [number, number] => {
  const [a, b, c] = [dot(r0, r0), dot(r0, r1), dot(r1, r1)]
  const [p, q] = [-dot(r0, step), dot(r1, step)]
  const det = a * c - b * b
  return [(p * c + q * b) / det, (a * q + b * p) / det]
}

/**
 * Pose of the sheet for one focal length, from its sides 3, 0 and 1 (x = 0, y = 0, x = w): sides 3 and 1 are parallel, side 0
 * at right angles to them.
 * @param lnFocal ln of focal length over the picture's longer side
 */
export const startCamera = (traced: readonly SidePoints[], [w]: readonly [number, number], { width, height }: Picture, lnFocal: number): Camera | null => {
  const f = Math.max(width, height) * Math.exp(lnFocal)
  const ray = ([x, y]: Point): Vector3 => [(x - (width - 1) / 2) / f, (y - (height - 1) / 2) / f, 1]
  const normals = [3, 0, 1].map((side) => sideNormal(traced.find((t) => t.side === side)?.points ?? [], ray))
  const [left, top, right] = normals
  if (left === undefined || left === null || top === undefined || top === null || right === undefined || right === null) return null
  const along = unit(cross(left, right))
  const across = along === null ? null : unit(cross(along, top))
  const [c0, c1] = [cross(left, top), cross(top, right)]
  if (along === null || across === null || Math.abs(c0[2]) < 1e-6 || Math.abs(c1[2]) < 1e-6) return null
  const [r0, r1] = [times(1 / c0[2], c0), times(1 / c1[2], c1)]
  const xAxis = times(Math.sign(across[0] * (r1[0] - r0[0]) + across[1] * (r1[1] - r0[1])) || 1, across)
  const yAxis = times(Math.sign(dot(cross(xAxis, along), r0)) || 1, along)
  const [near, far] = depths(r0, r1, times(w, xAxis))
  return near > 0 && far > 0 ? { right: xAxis, down: yAxis, corner: times(near, r0), lnFocal } : null
}
