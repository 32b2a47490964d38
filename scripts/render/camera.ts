import type { Mm } from './ink-sheet.ts'

export type Px = readonly [x: number, y: number]

/** A pinhole camera with one radial distortion term, over the plane of the paper. */
export interface Camera {
  readonly width: number
  readonly height: number
  /** Paper mm (y down) to ideal px, row by row; the centre of the first pixel is (0, 0). */
  readonly forward: readonly number[]
  readonly inverse: readonly number[]
  readonly focalPx: number
  /** Distorted radius = r·(1 + k1·r²), r in units of the focal length. */
  readonly k1: number
  readonly tiltDeg: number
  readonly rollDeg: number
}

export interface Pose {
  readonly width: number
  readonly height: number
  /** Focal length over the longer side. */
  readonly focal: number
  readonly tiltDeg: number
  /** Direction in which the camera leans, deg. */
  readonly leanDeg: number
  readonly rollDeg: number
  /** Point of the paper on the optical axis. */
  readonly aimMm: Mm
  readonly k1: number
}

const RAD = Math.PI / 180

/** Rotation by `tilt` about an axis in the paper plane, then by `roll` about the optical axis; rows. */
const rotation = (pose: Pose): readonly (readonly [number, number, number])[] => {
  const [ux, uy] = [Math.cos(pose.leanDeg * RAD), Math.sin(pose.leanDeg * RAD)]
  const [c, s] = [Math.cos(pose.tiltDeg * RAD), Math.sin(pose.tiltDeg * RAD)]
  const tilt = [
    [c + ux * ux * (1 - c), ux * uy * (1 - c), uy * s],
    [ux * uy * (1 - c), c + uy * uy * (1 - c), -ux * s],
    [-uy * s, ux * s, c],
  ] as const
  const [cr, sr] = [Math.cos(pose.rollDeg * RAD), Math.sin(pose.rollDeg * RAD)]
  const mixRows = (a: number, b: number): [number, number, number] => [
    a * tilt[0][0] + b * tilt[1][0],
    a * tilt[0][1] + b * tilt[1][1],
    a * tilt[0][2] + b * tilt[1][2],
  ]
  return [mixRows(cr, -sr), mixRows(sr, cr), tilt[2]]
}

const invert3 = (m: readonly number[]): number[] => {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
  return [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d].map((v) => v / det)
}

/** The camera at a distance from the aimed point, mm. */
export const placeCamera = (pose: Pose, distanceMm: number): Camera => {
  const r = rotation(pose)
  const focalPx = pose.focal * Math.max(pose.width, pose.height)
  const [cx, cy] = [(pose.width - 1) / 2, (pose.height - 1) / 2]
  const [px, py] = pose.aimMm
  const columns = r.map(([a, b], row) => [a, b, -a * px - b * py + (row === 2 ? distanceMm : 0)])
  const [x = [], y = [], z = []] = columns
  const line = (top: readonly number[], c: number): number[] => top.map((v, i) => focalPx * v + c * (z[i] ?? 0))
  const forward = [...line(x, cx), ...line(y, cy), ...z]
  return { width: pose.width, height: pose.height, forward, inverse: invert3(forward), focalPx, k1: pose.k1, tiltDeg: pose.tiltDeg, rollDeg: pose.rollDeg }
}

/** Where a point of the paper lands, px. */
export const project = (camera: Camera, [x, y]: Mm): Px => {
  const m = camera.forward
  const w = (m[6] ?? 0) * x + (m[7] ?? 0) * y + (m[8] ?? 1)
  const u = ((m[0] ?? 0) * x + (m[1] ?? 0) * y + (m[2] ?? 0)) / w
  const v = ((m[3] ?? 0) * x + (m[4] ?? 0) * y + (m[5] ?? 0)) / w
  const [cx, cy] = [(camera.width - 1) / 2, (camera.height - 1) / 2]
  const squared = ((u - cx) ** 2 + (v - cy) ** 2) / camera.focalPx ** 2
  const stretch = 1 + camera.k1 * squared
  return [cx + (u - cx) * stretch, cy + (v - cy) * stretch]
}

/** Radius scale that undoes the distortion, for a squared distorted radius (in focal lengths). */
export const undistortion = (k1: number, squared: number): number => {
  let scale = 1
  for (let i = 0; i < 6; i++) scale = 1 / (1 + k1 * squared * scale * scale)
  return scale
}

/** Which point of the paper plane a pixel sees, mm. */
export const unproject = (camera: Camera, [u, v]: Px): Mm => {
  const [cx, cy] = [(camera.width - 1) / 2, (camera.height - 1) / 2]
  const scale = undistortion(camera.k1, ((u - cx) ** 2 + (v - cy) ** 2) / camera.focalPx ** 2)
  const m = camera.inverse
  const x = cx + (u - cx) * scale
  const y = cy + (v - cy) * scale
  const w = (m[6] ?? 0) * x + (m[7] ?? 0) * y + (m[8] ?? 1)
  return [((m[0] ?? 0) * x + (m[1] ?? 0) * y + (m[2] ?? 0)) / w, ((m[3] ?? 0) * x + (m[4] ?? 0) * y + (m[5] ?? 0)) / w]
}

/** The nearest camera that keeps all points inside the frame, less a margin given as a fraction of the shorter side. */
export const frameCamera = (pose: Pose, pointsMm: readonly Mm[], margin: number): Camera => {
  const edge = margin * Math.min(pose.width, pose.height)
  const fits = (camera: Camera): boolean =>
    pointsMm.every((p) => {
      const [x, y] = project(camera, p)
      const ahead = (camera.forward[6] ?? 0) * p[0] + (camera.forward[7] ?? 0) * p[1] + (camera.forward[8] ?? 0) > 0
      return ahead && x >= edge && y >= edge && x <= pose.width - 1 - edge && y <= pose.height - 1 - edge
    })
  for (let distance = 60; distance < 5000; distance *= 1.01) {
    const camera = placeCamera(pose, distance)
    if (fits(camera)) return camera
  }
  throw new RangeError('no camera distance up to 5 m keeps the points in the frame; aim closer to them')
}

/** Pixels per millimetre at a point of the paper (geometric mean of both directions). */
export const pixelsPerMm = (camera: Camera, [x, y]: Mm): number => {
  const h = 0.5
  const [a, b, c, d] = [project(camera, [x - h, y]), project(camera, [x + h, y]), project(camera, [x, y - h]), project(camera, [x, y + h])]
  return Math.sqrt(Math.abs((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])))
}
