import { quantile } from '#core/numeric/median'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Detection } from './detection.ts'
import type { Scene } from './scene.ts'

/** A stroke is so many times as long as a letter's, at least, and there are this many of them, more than half round: any few lines aim somewhere. */
const LONGER = 1.6
const LEAST = 12
const HALF_ROUND = 180
const BESIDE_WRITING = 'many shorter lines, such as those of writing or print, were left out: check the overlay, or leave them out with --ignore'

/** The widest part of the turn without a mark, deg. */
const widestGap = (marks: Detection['marks']): number => {
  const angles = marks.flatMap(({ angleDeg }) => angleDeg ?? []).sort((a, b) => a - b)
  return Math.max(...angles.map((angle, i) => (angles[i + 1] ?? (angles[0] as number) + 360) - angle))
}

/**
 * Marks picked from many lines of their kind may be the stems of letters: they give way to longer strokes that are no such choice.
 * @param doubted what is to be said of the marks as they are
 * @param read what is read round a shaft of a scene, and not doubted so
 */
export const ratherLonger = (seen: Detection, doubted: Detection | Unmeasurable, scene: Scene, read: (rest: Scene) => Detection | Unmeasurable): Detection | Unmeasurable => {
  const { rig, centrePx, radiusRangePx } = scene.hints
  if (rig !== undefined || centrePx !== undefined || radiusRangePx !== undefined || seen.marks.length === 0) return doubted
  const least = LONGER * quantile(seen.marks.map(({ p0, p1 }) => Math.hypot(p1[0] - p0[0], p1[1] - p0[1])), 0.5)
  const longer = ({ lengthPx }: Scene['short'][number]): boolean => lengthPx > least
  const marks = read({ ...scene, short: scene.short.filter(longer), lines: scene.lines.filter(longer) })
  return isUnmeasurable(marks) || marks.marks.length < LEAST || widestGap(marks.marks) > HALF_ROUND ? doubted : { ...marks, doubts: [BESIDE_WRITING, ...marks.doubts] }
}
