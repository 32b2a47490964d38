import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Detection, Hints } from './detection.ts'

/** A shaft that lies farther outside the picture than so many of its diagonals shows only strokes that are all but parallel: grain, brushed metal, a weave. */
const FARTHEST = 1.5

/** Marks about a place far outside the picture are none, unless a person said where the shaft is. Null when they stand. */
export const tooFar = ({ centrePx, widthPx, heightPx, sheet }: Detection, hints: Hints): Unmeasurable | null => {
  if (centrePx === null || sheet !== null || hints.centrePx !== undefined) return null
  const beyond = (value: number, size: number): number => Math.max(0, -value, value - size)
  const away = Math.hypot(beyond(centrePx[0], widthPx), beyond(centrePx[1], heightPx)) / Math.hypot(widthPx, heightPx)
  if (away < FARTHEST) return null
  return unmeasurable(
    `the strokes that look most like marks aim at a place ${away.toFixed(1)} times the picture’s diagonal outside of it: the grain of a table or of metal was probably read instead of marks`,
    'photo',
    'give the shaft’s centre with --centre, say --rig mirror if the marks stand in a row, or photograph the paper alone',
  )
}
