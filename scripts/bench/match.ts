import type { DetectedMark } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import type { TruthFile, TruthMark } from './truth-file.ts'

/** A detected mark and the true one it stands for. */
export interface Match {
  readonly detected: number
  readonly truth: number
}

export interface Matching {
  readonly matches: readonly Match[]
  /** True marks that had to be found and were not. */
  readonly missed: readonly number[]
  /** Detected marks that stand for nothing inked by the hand. */
  readonly spurious: readonly number[]
  /** How many true marks had to be found. */
  readonly wanted: number
}

/** Share of its ink that must be visible for a mark to be wanted; below this it may be found or not. */
const WANTED = 0.8

const distanceToSegment = ([x, y]: Point, [a, b]: readonly [Point, Point]): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const squared = dx * dx + dy * dy
  const t = squared > 0 ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / squared)) : 0
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy)
}

const apart = (mark: DetectedMark, truth: TruthMark): number => {
  const middle: Point = [(mark.p0[0] + mark.p1[0]) / 2, (mark.p0[1] + mark.p1[1]) / 2]
  return Math.max(distanceToSegment(middle, truth.endsPx), distanceToSegment(truth.centroidPx, [mark.p0, mark.p1]))
}

/** One-to-one, nearest pairs first, no farther apart than 1.2 stroke widths and 3 px together. */
export const matchMarks = (detected: readonly DetectedMark[], truth: TruthFile): Matching => {
  const pairs = detected.flatMap((mark, d) =>
    truth.marks.flatMap((t, i) => {
      const far = apart(mark, t)
      return far <= 1.2 * t.widthPx + 3 ? [{ detected: d, truth: i, far }] : []
    }))
  pairs.sort((a, b) => a.far - b.far)
  const usedDetected = new Set<number>()
  const usedTruth = new Set<number>()
  const matches = pairs.filter((p) => {
    if (usedDetected.has(p.detected) || usedTruth.has(p.truth)) return false
    usedDetected.add(p.detected)
    usedTruth.add(p.truth)
    return true
  })
  const wanted = truth.marks.flatMap((m, i) => (m.visible >= WANTED ? [i] : []))
  const missed = wanted.filter((i) => !usedTruth.has(i) && !coveredByGroup(i, truth, usedTruth))
  const spurious = detected.flatMap((_, i) => (usedDetected.has(i) ? [] : [i]))
  return { matches, missed, spurious, wanted: wanted.length }
}

/** A mark that melts into its neighbours counts as found when enough of its group are. */
const coveredByGroup = (mark: number, truth: TruthFile, found: ReadonlySet<number>): boolean => {
  const group = truth.groups[truth.marks[mark]?.group ?? -1]
  return group !== undefined && group.marks.length > 1 && group.marks.filter((m) => found.has(m)).length >= group.distinct[0]
}

/** Bearing (or position) that a match should show: the mark's own, or the group's joint one when one reading stands for all of it. */
export const inkShown = (match: Match, truth: TruthFile, matched: ReadonlySet<number>): number => {
  const own = truth.marks[match.truth]
  const value = (m: TruthMark | undefined): number => m?.drawnDeg ?? m?.drawnMm ?? Number.NaN
  const group = truth.groups[own?.group ?? -1]
  if (group === undefined || group.distinct[1] > 1 && group.distinct[0] > 1 || group.marks.some((m) => m !== match.truth && matched.has(m))) return value(own)
  const offsets = group.marks.map((m) => ((value(truth.marks[m]) - value(own) + 540) % 360) - 180)
  return value(own) + offsets.reduce((a, b) => a + b, 0) / offsets.length
}
