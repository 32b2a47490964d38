import { median } from '#core/numeric/median'
import type { Point } from '#core/detect/raster'
import type { Patch } from './patch.ts'

/** An edge is steeper than this many times the patch's middling slope, and than this many grey levels per cell. */
const STEEP = 5
const LEAST_SLOPE = 3
/** A gradient's direction is known to about this, rad. */
const DIRECTION = 0.05

export interface Edge {
  /** Cells. */
  readonly x: number
  readonly y: number
  /** Unit vector towards the bright. */
  readonly ux: number
  readonly uy: number
}

/** Slopes by Sobel's masks, grey levels per cell. */
const slopesOf = ({ size, grey }: Patch): { readonly gx: Float64Array; readonly gy: Float64Array; readonly steep: Float64Array } => {
  const [gx, gy, steep] = [new Float64Array(size * size), new Float64Array(size * size), new Float64Array(size * size)]
  for (let row = 1; row < size - 1; row++) {
    for (let at = row * size + 1; at < (row + 1) * size - 1; at++) {
      const g = (d: number): number => grey[at + d] as number
      const x = (g(1 - size) + 2 * g(1) + g(1 + size) - g(-1 - size) - 2 * g(-1) - g(-1 + size)) / 8
      const y = (g(size - 1) + 2 * g(size) + g(size + 1) - g(-size - 1) - 2 * g(-size) - g(-size + 1)) / 8
      gx[at] = x
      gy[at] = y
      steep[at] = Number.isFinite(x + y) ? Math.hypot(x, y) : 0
    }
  }
  return { gx, gy, steep }
}

/** Places where the slope is greatest along its own direction. */
export const edgesOf = (patch: Patch): Edge[] => {
  const { size } = patch
  const { gx, gy, steep } = slopesOf(patch)
  const some = Array.from({ length: Math.ceil(steep.length / 7) }, (_, i) => steep[i * 7] as number)
  const least = Math.max(LEAST_SLOPE, STEEP * median(some))
  const edges: Edge[] = []
  for (let row = 2; row < size - 2; row++) {
    for (let column = 2; column < size - 2; column++) {
      const at = row * size + column
      const s = steep[at] as number
      if (s < least) continue
      const [ux, uy] = [(gx[at] as number) / s, (gy[at] as number) / s]
      const beside = Math.round(uy) * size + Math.round(ux)
      if (s < (steep[at + beside] as number) || s <= (steep[at - beside] as number)) continue
      edges.push({ x: column, y: row, ux, uy })
    }
  }
  return edges
}

export interface VoteWish {
  /** Least and greatest, cells. */
  readonly radii: readonly [number, number]
  /** Greatest distance from the patch's middle, cells. */
  readonly within: number
  readonly most: number
}

/**
 * Places that edges lie evenly round: each edge votes for all places that it could be a circle's rim about, larger circles a little more
 * than smaller ones (as the radial symmetry transform of Loy & Zelinsky, IEEE PAMI 25 (2003) 959, does; from memory).
 * @param size cells along a side of the patch
 * @returns up to `most` places, cells, those with most votes first
 */
export const voteRound = (edges: readonly Edge[], size: number, { radii: [least, greatest], within, most }: VoteWish): Point[] => {
  const votes = new Float64Array(size * size)
  const middle = (size - 1) / 2
  for (const { x, y, ux, uy } of edges) {
    for (const side of [-1, 1]) {
      for (let r = least; r <= greatest; r += 1) {
        const cx = x + side * r * ux
        const cy = y + side * r * uy
        if ((cx - middle) ** 2 + (cy - middle) ** 2 > within * within) continue
        const at = Math.round(cy) * size + Math.round(cx)
        votes[at] = (votes[at] as number) + 1 / Math.sqrt(r)
      }
    }
  }
  return peaksOf(votes, size, { most, reach: Math.max(1, Math.round(DIRECTION * greatest)) })
}

interface Peaks {
  readonly most: number
  /** Votes this many cells to either side belong together. */
  readonly reach: number
}

/** Sums over 2·reach + 1 values to all sides, along rows, then along columns. */
const gathered = (votes: Float64Array, size: number, reach: number): Float64Array => {
  const along = (values: Float64Array, stride: number, line: number): Float64Array => {
    const sums = new Float64Array(values.length)
    for (let l = 0; l < size; l++) {
      let sum = 0
      for (let k = -reach; k < size; k++) {
        if (k + reach < size) sum += values[l * line + (k + reach) * stride] as number
        if (k - reach - 1 >= 0) sum -= values[l * line + (k - reach - 1) * stride] as number
        if (k >= 0) sums[l * line + k * stride] = sum
      }
    }
    return sums
  }
  return along(along(votes, 1, size), size, 1)
}

/** Sums below this share of the highest are no place to look at. */
const PEAK = 0.4

/** Highest sums, no two within four cells of each other. */
const peaksOf = (votes: Float64Array, size: number, { most, reach }: Peaks): Point[] => {
  const gatheredVotes = gathered(votes, size, reach)
  const least = PEAK * gatheredVotes.reduce((a, b) => Math.max(a, b), 1e-9)
  const sums: { readonly x: number; readonly y: number; readonly sum: number }[] = []
  for (let y = 1; y < size - 1; y++) {
    for (let x = 1; x < size - 1; x++) {
      const sum = gatheredVotes[y * size + x] as number
      if (sum >= least) sums.push({ x, y, sum })
    }
  }
  sums.sort((a, b) => b.sum - a.sum)
  const peaks: Point[] = []
  for (const { x, y } of sums) {
    if (peaks.length >= most) break
    if (peaks.every(([px, py]) => Math.hypot(px - x, py - y) > 4)) peaks.push([x, y])
  }
  return peaks
}
