import { nthSmallest } from '#core/numeric/nth-smallest'
import { BAND, type LookBands, type Stretch } from './look-bands.ts'
import type { Plane } from '#core/detect/plane'

/** Points on the centre lines of thin dark lines, in px of the plane; arrays run side by side. */
export interface RidgePoints {
  readonly count: number
  readonly x: Float32Array
  readonly y: Float32Array
  /** Direction along the line, rad, x right y down, in (−π/2, π/2]. */
  readonly direction: Float32Array
  /** Second derivative across the line, per px². */
  readonly strength: Float32Array
  /** For each pixel of the plane the point in it, or −1. */
  readonly at: Int32Array
}

/** Places looked at for the spread. */
const NOISE_PLACES = 40_000

/**
 * Robust spread of the Laplacian over a thinned grid: what noise and texture alone give.
 * @param look where lines are looked for: a patterned cloth beside the paper says nothing about the paper
 */
export const ridgeNoise = ({ width, height, data }: Plane, look: LookBands): number => {
  const looked = look.reduce((sum, band) => sum + band.reduce((across, [from, to]) => across + to - from, 0) * BAND, 0)
  const step = Math.max(2, Math.floor(Math.sqrt(looked / NOISE_PLACES)))
  const values: number[] = []
  for (let y = 1; y < height - 1; y += step) {
    for (const [from, to] of look[Math.floor(y / BAND)] ?? []) {
      for (let x = Math.max(1, from); x < Math.min(width - 1, to); x += step) {
        const at = y * width + x
        const around = (data[at - 1] as number) + (data[at + 1] as number) + (data[at - width] as number) + (data[at + width] as number)
        values.push(Math.abs(around - 4 * (data[at] as number)))
      }
    }
  }
  return values.length === 0 ? 0 : nthSmallest(Float64Array.from(values), values.length >> 1) / 0.6745
}

interface GrowingPoints {
  count: number
  x: Float32Array
  y: Float32Array
  direction: Float32Array
  strength: Float32Array
  readonly at: Int32Array
}

const emptyPoints = (length: number) => ({ x: new Float32Array(length), y: new Float32Array(length), direction: new Float32Array(length), strength: new Float32Array(length) })

const enlarge = (points: GrowingPoints): void => {
  const larger = emptyPoints(2 * points.x.length + 4096)
  for (const key of ['x', 'y', 'direction', 'strength'] as const) {
    larger[key].set(points[key])
    points[key] = larger[key]
  }
}

/** Appends the centre-line points of columns `from` to before `to`. */
const scanRow = ({ width, data }: Plane, row: number, [from, to]: Stretch, { least, found }: { readonly least: number; readonly found: GrowingPoints }): void => {
  for (let column = from; column < to; column++) {
    const p = row * width + column
    const c = data[p] as number
    const left = data[p - 1] as number
    const right = data[p + 1] as number
    const up = data[p - width] as number
    const down = data[p + width] as number
    const xx = left + right - 2 * c
    const yy = up + down - 2 * c
    if (xx + yy < 0.6 * least) continue
    const xy = ((data[p - width - 1] as number) + (data[p + width + 1] as number) - (data[p - width + 1] as number) - (data[p + width - 1] as number)) / 4
    const half = (xx - yy) / 2
    const curvature = (xx + yy) / 2 + Math.sqrt(half * half + xy * xy)
    if (curvature < least) continue
    const across = 0.5 * Math.atan2(xy, half)
    const nx = Math.cos(across)
    const ny = Math.sin(across)
    const shift = -(((right - left) / 2) * nx + ((down - up) / 2) * ny) / curvature
    if (Math.abs(shift * nx) > 0.6 || Math.abs(shift * ny) > 0.6) continue
    const n = found.count++
    found.at[p] = n
    found.x[n] = column + shift * nx
    found.y[n] = row + shift * ny
    found.direction[n] = Math.atan2(nx, -ny)
    found.strength[n] = curvature
  }
}

/**
 * Centre-line points by the sign of the second derivative (Steger, IEEE PAMI 20 (1998) 113): where the largest curvature
 * of the smoothed picture exceeds `least`, and the first derivative across the line vanishes within the pixel.
 * @param plane smoothed with at least sigma 1
 * @param look where to look
 */
export const ridgePoints = (plane: Plane, least: number, look: LookBands): RidgePoints => {
  const { width, height } = plane
  const found: GrowingPoints = { ...emptyPoints(1 << 14), count: 0, at: new Int32Array(width * height).fill(-1) }
  for (let row = 1; row < height - 1; row++) {
    for (const [from, to] of look[Math.floor(row / BAND)] ?? []) {
      if (found.count + to - from > found.x.length) enlarge(found)
      scanRow(plane, row, [Math.max(1, from), Math.min(width - 1, to)], { least, found })
    }
  }
  const { count, x, y, direction, strength, at } = found
  return { count, x: x.subarray(0, count), y: y.subarray(0, count), direction: direction.subarray(0, count), strength: strength.subarray(0, count), at }
}
