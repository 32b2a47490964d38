import type { Detection } from '#core/detect/detection'
import { toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { extremes } from '#core/numeric/moments'
import { openCv } from './opencv.ts'
import { sharp } from './sharp.ts'

/** Longest side of the picture that is written, px. */
const longest = 1600
/** Paper shown around the marks, as a share of what they span. */
const around = 0.15

type Plane = NonNullable<Detection['plane']>

/** The part of the plane that holds the marks and the centre, with some paper around. */
const frameOf = ({ marks, centrePx }: Detection, plane: Plane): { x: number; y: number; width: number; height: number } => {
  const points = [...marks.flatMap(({ p0, p1 }) => [p0, p1]), ...(centrePx ? [centrePx] : [])].map((point: Point) => toPlane(plane, point))
  const [left, right] = extremes(points.map(([x]) => x))
  const [top, bottom] = extremes(points.map(([, y]) => y))
  const margin = around * Math.max(right - left, bottom - top)
  return { x: left - margin, y: top - margin, width: right - left + 2 * margin, height: bottom - top + 2 * margin }
}

const product = (a: readonly number[], b: readonly number[]): number[] =>
  a.map((_, i) => [0, 1, 2].reduce((sum, k) => sum + (a[3 * Math.floor(i / 3) + k] ?? 0) * (b[3 * k + (i % 3)] ?? 0), 0))

/**
 * The marks as if the camera had looked squarely at the paper: the photo warped by the very map the angles were taken in
 * (its lens term, a fraction of a px here, left out). For the eye; nothing is measured on it.
 * @returns a PNG, or null when the photo was taken as square-on already
 */
export const squareOn = async (photo: Uint8Array, detection: Detection): Promise<Uint8Array | null> => {
  const { plane } = detection
  if (!plane || detection.rectifiedBy === 'none' || detection.marks.length === 0) return null
  const frame = frameOf(detection, plane)
  const scale = longest / Math.max(frame.width, frame.height)
  const [width, height] = [Math.round(frame.width * scale), Math.round(frame.height * scale)]
  const { data, info } = await sharp(photo, { failOn: 'none' }).autoOrient().flatten({ background: '#ffffff' }).toColourspace('srgb').raw().toBuffer({ resolveWithObject: true })
  const cv = openCv()
  const from = cv.matFromArray(info.height, info.width, cv.CV_8UC3, data)
  const map = cv.matFromArray(3, 3, cv.CV_64F, product([scale, 0, -scale * frame.x, 0, scale, -scale * frame.y, 0, 0, 1], plane.homography))
  const to = new cv.Mat()
  try {
    cv.warpPerspective(from, to, map, new cv.Size(width, height), cv.INTER_LINEAR, cv.BORDER_CONSTANT, new cv.Scalar(255, 255, 255, 255))
    return await sharp(Buffer.from(to.data), { raw: { width, height, channels: 3 } }).png().toBuffer()
  } finally {
    for (const mat of [from, map, to]) mat.delete()
  }
}
