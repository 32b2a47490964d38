import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { FittedMark } from '#core/detect/dial/seen-from-centre'

/** Of the marks that a joint reading left as they were, it may make strangers of this share and one more. */
const ESTRANGED = 0.1

/**
 * Does a joint reading take the marks it did not touch for something else? Then what it read was not drawn by their pen.
 * @param fits all strokes after the reading, the untouched ones among them
 * @param after those of them that still count as marks
 */
export const estranges = (before: readonly FittedMark[], fits: readonly StrokeFit[], after: readonly FittedMark[]): boolean => {
  const left = before.filter((m) => fits.includes(m.fit))
  const lost = left.filter((m) => !after.some((other) => other.fit === m.fit))
  return lost.length > 1 + ESTRANGED * left.length
}
