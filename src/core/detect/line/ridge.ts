import { BAND, type LookBands } from './look-bands.ts'
import { workspace } from '#core/detect/kernels/workspace'
import type { Plane } from '#core/detect/plane'

/** Points on the centre lines of thin dark lines, in px of the plane; arrays run side by side. */
export interface RidgePoints {
  readonly x: Float32Array
  readonly y: Float32Array
  /** Second derivative across the line, per px². */
  readonly strength: Float32Array
}

/** Indices into the ridge points, in order along a line. */
export type Chain = Int32Array

/** Places looked at for the spread. */
const NOISE_PLACES = 40_000

/**
 * Robust spread of the Laplacian over a thinned grid: what noise and texture alone give.
 * @param look where lines are looked for: a patterned cloth beside the paper says nothing about the paper
 */
export const ridgeNoise = ({ width, height, data }: Plane, look: LookBands): number => {
  const looked = look.reduce((sum, band) => sum + band.reduce((across, [from, to]) => across + to - from, 0) * BAND, 0)
  const step = Math.max(2, Math.floor(Math.sqrt(looked / NOISE_PLACES)))
  const { program, f32, at: [from, into] } = workspace(4 * data.length, 2 * (width + 2) * (height + 2))
  f32.set(data, from / 4)
  let count = 0
  for (let y = 1; y < height - 1; y += step) {
    for (const [left, right] of look[Math.floor(y / BAND)] ?? []) count += program.laplacians(from, width, y, Math.max(1, left), Math.min(width - 1, right), step, into + 8 * count)
  }
  return count === 0 ? 0 : program.nthSmallest(into, count, count >> 1) / 0.6745
}

/** What makes a ridge. */
export interface RidgeLimits {
  /** Least strength of a point. */
  readonly least: number
  /** Least strength to start a line from; weaker points only continue one. */
  readonly seed: number
  /** Shorter lines are left out. */
  readonly leastPoints: number
}

/** So many of a picture's pixels at most hold a point; noise alone, however strong, gives a few in a hundred. */
const MOST_SHARE = 1 / 4
/** The next point of a line is looked for so many pixels away, beyond the border too. */
const NEAR = 2
/** More than there are points in any plane, and few enough that strength and number fit into one number together. */
const MOST_POINTS = 2 ** 21

/** Points of at least some strength, the strongest first; of two alike the one that was found first. */
const strongestFirst = (strength: Float32Array, least: number): Int32Array => {
  // The bits of positive numbers are in order of size, and numbers sort far quicker by themselves than by a comparison.
  const bits = new Uint32Array(strength.buffer)
  const keys = new Float64Array(strength.length)
  let count = 0
  for (let i = 0; i < keys.length; i++) if ((strength[i] as number) >= least) keys[count++] = (2 ** 32 - (bits[i] as number)) * MOST_POINTS + i
  return Int32Array.from(keys.subarray(0, count).sort(), (key) => key % MOST_POINTS)
}

/**
 * Centre lines of thin dark lines, by the sign of the second derivative (Steger, IEEE PAMI 20 (1998) 113): a point where the
 * largest curvature of the smoothed picture exceeds a limit and the first derivative across the line vanishes within the
 * pixel; points joined strongest first, each once.
 * @param plane smoothed with at least sigma 1
 * @param look where to look
 */
export const ridgeLines = ({ width, height, data }: Plane, look: LookBands, { least, seed, leastPoints }: RidgeLimits): { readonly points: RidgePoints; readonly chains: readonly Chain[] } => {
  const room = Math.ceil(data.length * MOST_SHARE)
  const margin = NEAR * (width + 1)
  const { program, u8, i32, f32, at: [from, pixels, found, order, used, along, ends] } = workspace(4 * data.length, 4 * (data.length + 2 * margin), 20 * room, 4 * room, room, 4 * room, 4 * room)
  f32.set(data, from / 4)
  i32.fill(-1, pixels / 4, pixels / 4 + data.length + 2 * margin)
  const first = pixels + 4 * margin
  let count = 0
  for (let row = 1; row < height - 1; row++) {
    for (const [left, right] of look[Math.floor(row / BAND)] ?? []) count = program.scan(from, width, row, Math.max(1, left), Math.min(width - 1, right), least, first, found, room, count)
  }
  const column = (n: number): Float32Array => f32.slice(found / 4 + n * room, found / 4 + n * room + count)
  const points = { x: column(0), y: column(1), strength: column(2) }
  const starts = strongestFirst(points.strength, seed)
  i32.set(starts, order / 4)
  u8.fill(0, used, used + count)
  const lines = program.link(order, starts.length, found, room, first, width, used, leastPoints, along, ends)
  const endOf = (n: number): number => along / 4 + (n < 0 ? 0 : (i32[ends / 4 + n] as number))
  return { points, chains: Array.from({ length: lines }, (_, n) => i32.slice(endOf(n - 1), endOf(n))) }
}
