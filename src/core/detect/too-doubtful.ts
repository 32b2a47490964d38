import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Detection } from './detection.ts'

/** More doubtful marks than this, and more than the sure ones, are texture rather than a trace. */
const MOST_DOUBTFUL = 12

/** A detection most of whose marks are doubtful is none: grain, a weave or writing was read. Null when it stands. */
export const tooDoubtful = ({ marks }: Detection): Unmeasurable | null => {
  const doubtful = marks.filter((m) => m.confidence < 0.5).length
  if (doubtful <= MOST_DOUBTFUL || doubtful <= marks.length - doubtful) return null
  return unmeasurable(
    `${doubtful} of ${marks.length} strokes are unlike the rest: texture or writing was probably read instead of marks`,
    'photo',
    'give the shaft centre and the radii with --centre and --radius-range, cover what is not a mark, or take a sharper photo of the paper alone',
  )
}
