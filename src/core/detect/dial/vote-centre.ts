import { weightedQuantile } from '#core/numeric/weighted-quantile'
import type { Candidate } from '#core/detect/line/candidate'
import type { Point } from '#core/detect/raster'

/** How far, as a share of the picture's longer side, a centre may lie outside the picture. */
const OUTSIDE = 0.35
const CELLS = 160
const LEAN = (2.2 * Math.PI) / 180

/** Angle in rad between a candidate and the line from a centre to its middle, 0 … π/2. */
export const leanOf = ({ along, middle }: Candidate, [cx, cy]: Point): number => {
  const rx = middle[0] - cx
  const ry = middle[1] - cy
  return Math.atan2(Math.abs(rx * along[1] - ry * along[0]), Math.abs(rx * along[0] + ry * along[1]))
}

/** A line's weight among the pen's: by its length and the square of its depth, so that much faint ruling does not count. */
const penWeight = ({ depth, lengthPx }: Candidate): number => depth * depth * lengthPx

/** The lines without one that outweighs all others together: a cable's edge or a pointer is not what the pen draws. */
const withoutOutsider = (candidates: readonly Candidate[]): readonly Candidate[] => {
  const order = [...candidates].sort((a, b) => penWeight(b) - penWeight(a))
  const all = order.reduce((sum, c) => sum + penWeight(c), 0)
  return order.slice(order.length > 1 && 2 * penWeight(order[0] as Candidate) > all ? 1 : 0)
}

/** Depth of the picture's pen lines: the median by weight. */
export const usualDepth = (candidates: readonly Candidate[]): number =>
  candidates.length === 0 ? 1 : weightedQuantile(withoutOutsider(candidates), 0.5, (c) => c.depth, penWeight)

/** What most of the picture's ink looks like: depth (ln), and length of a usual stroke, px. */
export interface UsualLine {
  readonly depth: number
  readonly lengthPx: number
}

/** Lines fainter than this share of the usual depth are no pen's: they say nothing of how long its lines are. */
const PEN = 0.4

/** Length of the picture's pen lines: the median, each line weighed by its ink, so that neither the short strokes of writing nor faint long ruling counts. */
const usualLength = (candidates: readonly Candidate[], depth: number): number => {
  const pen = candidates.filter((c) => c.depth >= PEN * depth)
  return pen.length === 0 ? 1 : weightedQuantile(pen, 0.5, (c) => c.lengthPx, (c) => c.depth * c.lengthPx)
}

export const usualLine = (candidates: readonly Candidate[]): UsualLine => {
  const depth = usualDepth(candidates)
  return { depth, lengthPx: usualLength(candidates, depth) }
}

/** Faint and short lines count for less than dark and long ones: 0.06 … 1. */
const inkWorth = ({ depth, lengthPx }: Candidate, usual: UsualLine): number =>
  (0.2 + 0.8 * Math.min(1, (1.6 * depth) / usual.depth)) * (0.3 + 0.7 * Math.min(1, (1.3 * lengthPx) / usual.lengthPx))

/** Greatest lean that counts for half or more, rad: short lines show their direction less well. */
const leanAllowed = ({ lengthPx }: Candidate): number => LEAN + 0.8 / lengthPx

/** Lines share a bearing that lie within so much of each other, degrees. */
const BIN_DEG = 0.3
/** A line that leans by this many times what is allowed counts for nothing (exp −16). */
const NO_LONGER = 4

/**
 * How many differently directed lines point at a centre: each 0.3° of bearing counts once, by its best line,
 * less what lines of random direction would give.
 */
export const scoreCentre = (candidates: readonly Candidate[], centre: Point, usual: UsualLine): number => {
  const best = new Float64Array(Math.round(360 / BIN_DEG) + 1)
  let chance = 0
  for (const candidate of candidates) {
    const rx = candidate.middle[0] - centre[0]
    const ry = candidate.middle[1] - centre[1]
    const radius = Math.sqrt(rx * rx + ry * ry)
    if (radius < 0.6 * candidate.lengthPx) continue
    const allowed = leanAllowed(candidate)
    const lean = leanOf(candidate, centre) / allowed
    const most = Math.min(1, radius / (3 * candidate.lengthPx) + 0.4) * inkWorth(candidate, usual)
    // Mean of exp(−lean²) over all directions: allowed·√π/2 over the quarter turn.
    chance += most * Math.min(1, allowed / Math.sqrt(Math.PI))
    if (lean > NO_LONGER) continue
    const worth = Math.exp(-lean * lean) * most
    const bin = Math.round(((Math.atan2(ry, rx) / Math.PI + 1) * 180) / BIN_DEG)
    if (worth > (best[bin] as number)) best[bin] = worth
  }
  return best.reduce((sum, worth) => sum + worth, -chance)
}

interface Ballot {
  readonly cell: number
  readonly left: number
  readonly top: number
  readonly columns: number
  readonly rows: number
  readonly votes: Float32Array
}

const castVotes = (candidates: readonly Candidate[], [width, height]: readonly [number, number], usual: UsualLine): Ballot => {
  const long = Math.max(width, height)
  const cell = long / CELLS
  const left = -OUTSIDE * long
  const top = -OUTSIDE * long
  const columns = Math.ceil((width + 2 * OUTSIDE * long) / cell)
  const rows = Math.ceil((height + 2 * OUTSIDE * long) / cell)
  const votes = new Float32Array(columns * rows)
  for (const candidate of candidates) {
    const { middle, along, lengthPx } = candidate
    const worth = inkWorth(candidate, usual)
    for (const sign of [-1, 1]) {
      for (let t = 0.7 * lengthPx; t < 1.3 * long; t += cell) {
        const column = Math.floor((middle[0] + sign * t * along[0] - left) / cell)
        const row = Math.floor((middle[1] + sign * t * along[1] - top) / cell)
        if (column < 0 || row < 0 || column >= columns || row >= rows) break
        votes[row * columns + column] = (votes[row * columns + column] as number) + worth
      }
    }
  }
  return { cell, left, top, columns, rows, votes }
}

/** Votes in the 3 × 3 cells around each; 0 along the border. */
const neighbourSums = ({ columns, rows, votes }: Ballot): Float64Array => {
  const sums = new Float64Array(votes.length)
  for (let row = 1; row < rows - 1; row++) {
    for (let at = row * columns + 1; at < (row + 1) * columns - 1; at++) {
      let sum = 0
      for (let beside = at - 1; beside <= at + 1; beside++) sum += (votes[beside - columns] as number) + (votes[beside] as number) + (votes[beside + columns] as number)
      sums[at] = sum
    }
  }
  return sums
}

/** Fewer votes around a cell are no peak. */
const LEAST_VOTES = 2

/** Does a cell hold more than its four neighbours before it in reading order, and no less than those after it? */
const isPeak = (sums: Float64Array, at: number, columns: number): boolean => {
  const here = sums[at] as number
  return here >= LEAST_VOTES && [1, columns - 1, columns, columns + 1].every((k) => here > (sums[at - k] as number) && here >= (sums[at + k] as number))
}

/** Cells with the most votes in their 3 × 3 neighbourhood, each more than the cells around it, best first. */
const peaksOf = (ballot: Ballot, most: number): Point[] => {
  const { cell, left, top, columns } = ballot
  const sums = neighbourSums(ballot)
  const peaks: number[] = []
  for (let at = columns + 1; at < sums.length - columns - 1; at++) if (isPeak(sums, at, columns)) peaks.push(at)
  return peaks
    .sort((a, b) => (sums[b] as number) - (sums[a] as number))
    .slice(0, most)
    .map((at) => [left + ((at % columns) + 0.5) * cell, top + (Math.floor(at / columns) + 0.5) * cell])
}

/** Point of least robust squared lean for the lines that already nearly point at it. */
export const pullCentre = (candidates: readonly Candidate[], start: Point): Point => {
  let [cx, cy] = start
  for (const limit of [8, 5, 3, 3]) {
    let xx = 1e-12
    let xy = 0
    let yy = 1e-12
    let bx = 0
    let by = 0
    for (const candidate of candidates) {
      const { along, middle, lengthPx } = candidate
      const rx = middle[0] - cx
      const ry = middle[1] - cy
      const square = rx * rx + ry * ry
      if (square < (0.6 * lengthPx) ** 2) continue
      const allowed = (limit * Math.PI) / 180 + 1 / lengthPx
      const nx = -along[1]
      const ny = along[0]
      const aside = Math.abs(rx * nx + ry * ny)
      const ahead = Math.abs(rx * ny - ry * nx)
      // As tan x is below 1.25·x up to 0.7, most lines need no angle.
      if (allowed < 0.7 && aside > 1.25 * allowed * ahead) continue
      const z = Math.atan2(aside, ahead) / allowed
      if (z >= 1) continue
      const weight = (1 - z * z) ** 2 / square
      const offset = nx * middle[0] + ny * middle[1]
      xx += weight * nx * nx
      xy += weight * nx * ny
      yy += weight * ny * ny
      bx += weight * nx * offset
      by += weight * ny * offset
    }
    const determinant = xx * yy - xy * xy
    if (!(determinant > 1e-9 * xx * yy)) break
    cx = (yy * bx - xy * by) / determinant
    cy = (xx * by - xy * bx) / determinant
  }
  return [cx, cy]
}

export interface CentreVote {
  readonly centrePx: Point
  /** Differently directed lines that point at it, beyond chance. */
  readonly score: number
}

/** Lines, and the place most of them point at: null when they point at none, or when other things tell. */
export interface AimedLines {
  readonly candidates: readonly Candidate[]
  /** Lines that were set aside as pieces of longer ones; an arm of a cross may be among them. */
  readonly pieces?: readonly Candidate[]
  readonly vote: CentreVote | null
}

/** Peaks that are drawn to the same place, to within this many px, are one. */
const SAME_PX = 0.01

/**
 * The place most straight lines point at (a Hough vote over a coarse grid, the best cells scored exactly and refined).
 * @returns null when fewer than three lines agree anywhere
 */
export const voteCentre = (candidates: readonly Candidate[], width: number, height: number): CentreVote | null => {
  let best: CentreVote | null = null
  const usual = usualLine(candidates)
  const seen: Point[] = []
  for (const peak of peaksOf(castVotes(candidates, [width, height], usual), 40)) {
    const centrePx = pullCentre(candidates, peak)
    if (!Number.isFinite(centrePx[0] + centrePx[1]) || seen.some(([x, y]) => Math.hypot(x - centrePx[0], y - centrePx[1]) < SAME_PX)) continue
    seen.push(centrePx)
    const score = scoreCentre(candidates, centrePx, usual)
    if (best === null || score > best.score) best = { centrePx, score }
  }
  return best !== null && best.score >= 2 ? best : null
}
