import type { Homography } from '#core/numeric/homography'
import type { Picture } from '#core/detect/raster'
import type { Quad } from './find-quad.ts'
import type { PaperChoice } from './paper-size.ts'
import { guessShape } from './unknown-size.ts'

/** A next size that fits worse by less than this, in units of variance, leaves the choice open. */
export const OPEN_MARGIN = 6
export const OPEN_SIZE = 'the paper could be A4 or US Letter by its shape in the photo; say which with --paper'

/** Worse than this, a sheet of another size seen by a usual lens is as likely as one of those sizes seen by an unusual one. */
const POOR_MISFIT = 9

const poorFit = (sizeMm: readonly number[]): string => `the paper was taken for one of ${sizeMm.join(' × ')} mm, which its shape in the photo fits poorly: say its size with --paper`

/**
 * What else a sheet may be whose size nobody said: the next known size where that fits nearly as well, the shape that the perspective
 * alone tells where the size that was chosen fits poorly.
 * @returns maps from ideal px to the sheet, none when the size is clear, and what is to be said
 */
export const otherSizes = (corners: Quad, { margin, misfit, next, sizeMm }: PaperChoice, picture: Picture): { readonly maps: readonly Homography[]; readonly doubts: readonly string[] } => {
  if (margin < OPEN_MARGIN) return { maps: next === null ? [] : [next], doubts: [OPEN_SIZE] }
  const guess = misfit > POOR_MISFIT ? guessShape(corners, picture) : null
  return guess === null ? { maps: [], doubts: [] } : { maps: [guess.choice.homography], doubts: [poorFit(sizeMm)] }
}
