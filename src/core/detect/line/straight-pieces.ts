import type { Chain, RidgePoints } from './ridge.ts'
import type { Point } from '#core/detect/raster'

/** A straight piece of a line in px of the plane. */
export interface Segment {
  /** Ridge points it was made from. */
  readonly points: Int32Array
  readonly p0: Point
  readonly p1: Point
  readonly length: number
  /** Unit vector from p0 to p1. */
  readonly along: Point
  readonly middle: Point
  /** rms distance of its points from the line. */
  readonly rms: number
  /** Length of the longest unbroken line it came from, in ridge points. */
  readonly lineLength: number
}

/**
 * Straight line through ridge points by orthogonal regression, cut at the outermost points.
 * @returns null when the points coincide
 */
export const segmentFrom = (ridge: RidgePoints, points: Int32Array, lineLength: number): Segment | null => {
  let mx = 0
  let my = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    mx += ridge.x[i] as number
    my += ridge.y[i] as number
  }
  mx /= points.length
  my /= points.length
  let xx = 0
  let xy = 0
  let yy = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    const dx = (ridge.x[i] as number) - mx
    const dy = (ridge.y[i] as number) - my
    xx += dx * dx
    xy += dx * dy
    yy += dy * dy
  }
  if (!(xx + yy > 0)) return null
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy)
  const ux = Math.cos(angle)
  const uy = Math.sin(angle)
  let low = 0
  let high = 0
  for (let k = 0; k < points.length; k++) {
    const i = points[k] as number
    const t = ((ridge.x[i] as number) - mx) * ux + ((ridge.y[i] as number) - my) * uy
    low = Math.min(low, t)
    high = Math.max(high, t)
  }
  const across = Math.max(0, xx * uy * uy - 2 * xy * ux * uy + yy * ux * ux)
  return {
    points,
    p0: [mx + low * ux, my + low * uy],
    p1: [mx + high * ux, my + high * uy],
    length: high - low,
    along: [ux, uy],
    middle: [mx + ((low + high) / 2) * ux, my + ((low + high) / 2) * uy],
    rms: Math.sqrt(across / points.length),
    lineLength,
  }
}

/** How far a stroke may bow from its chord: px, or this share of its length. */
const BOW_PX = 1.2
const BOW_SHARE = 0.03

/** Farthest point of chain[first … last] from the chord between its ends. */
const farthest = (ridge: RidgePoints, chain: Chain, first: number, last: number): readonly [index: number, distance: number, chord: number] => {
  const a = chain[first] as number
  const b = chain[last] as number
  const ax = ridge.x[a] as number
  const ay = ridge.y[a] as number
  const dx = (ridge.x[b] as number) - ax
  const dy = (ridge.y[b] as number) - ay
  const chord = Math.hypot(dx, dy) || 1e-9
  let index = first
  let distance = 0
  for (let i = first + 1; i < last; i++) {
    const p = chain[i] as number
    const d = Math.abs(((ridge.x[p] as number) - ax) * dy - ((ridge.y[p] as number) - ay) * dx) / chord
    if (d > distance) {
      distance = d
      index = i
    }
  }
  return [index, distance, chord]
}

/** Cuts lines where they bend (Ramer 1972) and returns the straight pieces of at least `leastPoints` points. */
export const straightPieces = (ridge: RidgePoints, chains: readonly Chain[], leastPoints: number): Segment[] => {
  const pieces: Segment[] = []
  const cut = (chain: Chain, first: number, last: number): void => {
    if (last - first + 1 < leastPoints) return
    const [index, distance, chord] = farthest(ridge, chain, first, last)
    if (distance > Math.max(BOW_PX, BOW_SHARE * chord)) {
      cut(chain, first, index)
      cut(chain, index, last)
      return
    }
    const piece = segmentFrom(ridge, chain.slice(first, last + 1), chain.length)
    if (piece !== null) pieces.push(piece)
  }
  for (const chain of chains) cut(chain, 0, chain.length - 1)
  return pieces
}
