import { meanAmplitude, seenWidth, type StrokeModel } from './stroke-model.ts'

/** Lines are found straight: of a stroke bowed by more than this share of its width, and by more px than the fit of a short one tells, a part may have been found. */
const BOWED = 0.15
const TOLD_PX = 0.5
/** One bowed by more than this share of its length is no hand's straight line. */
const CURVED = 0.05
/** Neighbours' ink beside it, as a share of its own: among strokes nearer than that, one fit goes over into another. */
const ALONE = 0.1
/** Ink of less than this share of a stroke's own somewhere along it: what goes on from there may be something else. */
const GAP = 0.15

/**
 * May a stroke, inked as far as it was looked at, be the part that was found of one that goes on in a bow?
 * @param beside the most ink of neighbours among its pixels, grey levels
 */
export const isPartOfBowed = (model: StrokeModel, beside: number): boolean => {
  const bow = Math.abs(model.bow[2])
  return bow > Math.max(TOLD_PX, BOWED * seenWidth(model)) && 1.5 * bow < CURVED * 2 * model.halfLength && beside < ALONE * meanAmplitude(model)
}

/** Is a stroke inked all along? */
export const isUnbroken = (model: StrokeModel): boolean => model.amplitudes.every((a) => a > GAP * meanAmplitude(model))
