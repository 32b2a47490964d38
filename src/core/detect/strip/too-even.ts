import type { DetectedMark } from '#core/detect/detection'
import { SURE } from '#core/detect/dial/sureness'
import { evenTicks } from './even-ticks.ts'

/** Fewer marks may be even by chance. */
const LEAST = 12
/** Motors place their full steps to some 3 to 5 % of a step (common practice, no source); a ruler's ticks are seen even to 1.5 %. */
const PRINTED = 0.015
/** Share of the marks, and of the steps between the first and the last, that such a scale shows. */
const MOST = 0.9
const FILLED = 0.65

/** The doubt about marks in a row that are all as even as print: a ruler's ticks, a comb. Without one, nothing. */
export const tooEven = (marks: readonly DetectedMark[]): string[] => {
  const sure = marks.filter((m) => m.confidence >= SURE)
  const grid = sure.length < LEAST ? null : evenTicks(sure.map((m) => m.positionPx ?? 0))
  if (grid === null || grid.members.length < MOST * sure.length || grid.filled < FILLED || grid.spread > PRINTED) return []
  return [`${grid.members.length} of the marks are even to ${Math.max(0.1, 100 * grid.spread).toFixed(1)} % of a step: no motor and no hand is, a ruler or a comb is; if they are one, the marks were not found: take it off for the photo, or leave it out with --ignore`]
}
