import type { Plane } from './plane.ts'

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

/** Robust spread of the Laplacian over a thinned grid: what noise and texture alone give. */
export const ridgeNoise = ({ width, height, data }: Plane): number => {
  const values: number[] = []
  const step = Math.max(2, Math.floor(Math.sqrt((width * height) / 40_000)))
  for (let y = 1; y < height - 1; y += step) {
    for (let x = 1; x < width - 1; x += step) {
      const at = y * width + x
      const c = data[at] as number
      values.push(Math.abs((data[at - 1] as number) + (data[at + 1] as number) + (data[at - width] as number) + (data[at + width] as number) - 4 * c))
    }
  }
  values.sort((a, b) => a - b)
  return (values[values.length >> 1] ?? 0) / 0.6745
}

/**
 * Centre-line points by the sign of the second derivative (Steger, IEEE PAMI 20 (1998) 113): where the largest curvature
 * of the smoothed picture exceeds `least`, and the first derivative across the line vanishes within the pixel.
 * @param plane smoothed with at least sigma 1
 */
export const ridgePoints = ({ width, height, data }: Plane, least: number): RidgePoints => {
  const at = new Int32Array(width * height).fill(-1)
  const capacity = Math.floor((width * height) / 4)
  const x = new Float32Array(capacity)
  const y = new Float32Array(capacity)
  const direction = new Float32Array(capacity)
  const strength = new Float32Array(capacity)
  let count = 0
  for (let row = 1; row < height - 1; row++) {
    for (let column = 1; column < width - 1; column++) {
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
      const root = Math.sqrt(half * half + xy * xy)
      const curvature = (xx + yy) / 2 + root
      if (curvature < least) continue
      const across = 0.5 * Math.atan2(xy, half)
      const nx = Math.cos(across)
      const ny = Math.sin(across)
      const shift = -(((right - left) / 2) * nx + ((down - up) / 2) * ny) / curvature
      if (Math.abs(shift * nx) > 0.6 || Math.abs(shift * ny) > 0.6 || count >= capacity) continue
      at[p] = count
      x[count] = column + shift * nx
      y[count] = row + shift * ny
      direction[count] = Math.atan2(nx, -ny)
      strength[count] = curvature
      count++
    }
  }
  return { count, x: x.slice(0, count), y: y.slice(0, count), direction: direction.slice(0, count), strength: strength.slice(0, count), at }
}
