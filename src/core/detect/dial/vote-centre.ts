import { workspace } from '#core/detect/kernels/workspace'
import { weightedQuantile } from '#core/numeric/weighted-quantile'
import type { Candidate } from '#core/detect/line/candidate'
import type { Point } from '#core/detect/raster'

/** So few strokes may aim at one place by chance. */
export const BY_CHANCE = 5

/** How far, as a share of the picture's longer side, a centre may lie outside the picture. */
const OUTSIDE = 0.35
const CELLS = 160

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

/** Lines share a bearing that lie within so much of each other, degrees. */
const BIN_DEG = 0.3
const BEARINGS = Math.round(360 / BIN_DEG)

export interface CentreVote {
  readonly centrePx: Point
  /** Differently directed lines that point at it, beyond chance. */
  readonly score: number
}

/** Lines, and the place most of them point at: null when they point at none, or when other things tell. */
export interface AimedLines {
  readonly candidates: readonly Candidate[]
  readonly vote: CentreVote | null
}

/** Peaks that are drawn to the same place, to within this many px, are one. */
const SAME_PX = 0.01
/** Peaks that are looked at closely. */
const MOST_PEAKS = 40
/** Fewer differently directed lines than this agree by chance. */
const LEAST_SCORE = 2

/**
 * The place most straight lines point at (a Hough vote over a coarse grid, the best cells drawn to where their lines meet and scored exactly).
 * @returns null when fewer than three lines agree anywhere
 */
export const voteCentre = (candidates: readonly Candidate[], width: number, height: number): CentreVote | null => {
  const long = Math.max(width, height)
  const [cell, left, top] = [long / CELLS, -OUTSIDE * long, -OUTSIDE * long]
  const [columns, rows] = [Math.ceil((width + 2 * OUTSIDE * long) / cell), Math.ceil((height + 2 * OUTSIDE * long) / cell)]
  const cells = columns * rows
  const usual = usualLine(candidates)
  const count = candidates.length
  const { program, i32, f32, f64, at: [lines, votes, sums, peaks, centre, bins] } = workspace(8 * 6 * count, 4 * cells, 4 * cells, 4 * cells, 8 * 2, 8 * (BEARINGS + 1))
  candidates.forEach((c, i) => f64.set([...c.middle, ...c.along, c.lengthPx, inkWorth(c, usual)], lines / 8 + 6 * i))
  program.castVotes(lines, count, long, cell, left, top, columns, rows, votes)
  const found = [...i32.subarray(peaks / 4, peaks / 4 + program.findPeaks(votes, columns, rows, sums, peaks))]
  const votesAt = (at: number): number => f32[sums / 4 + at] as number
  let best: CentreVote | null = null
  const seen: Point[] = []
  for (const at of found.sort((a, b) => votesAt(b) - votesAt(a)).slice(0, MOST_PEAKS)) {
    f64.set([left + ((at % columns) + 0.5) * cell, top + (Math.floor(at / columns) + 0.5) * cell], centre / 8)
    program.pullCentre(lines, count, centre)
    const [x, y] = f64.subarray(centre / 8) as unknown as Point
    if (!Number.isFinite(x + y) || seen.some((other) => Math.hypot(x - other[0], y - other[1]) < SAME_PX)) continue
    seen.push([x, y])
    const score = program.scoreCentre(lines, count, x, y, BEARINGS, bins)
    if (best === null || score > best.score) best = { centrePx: [x, y], score }
  }
  return best !== null && best.score >= LEAST_SCORE ? best : null
}
