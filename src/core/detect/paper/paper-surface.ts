import type { Hints } from '#core/detect/detection'
import { planeMap } from '#core/detect/plane-map'
import type { Picture, Point, Raster } from '#core/detect/raster'
import { bareSurface, type Surface } from '#core/detect/surface'
import { movedCorners } from './corners-surface.ts'
import { findPaperQuad, type PaperQuad, type Quad } from './find-quad.ts'
import { fitPaper } from './fit-paper.ts'
import { choosePaper, guessShape, MOST_MISFIT, otherSizes, type PaperChoice } from './paper-size.ts'

/** A sheet cut by hand has its corners out of square by about this share of its width and height together (common practice, no source). */
const CUT = 0.0005
/** Sides seen less completely than this are not taken for those of a sheet of no known size. */
const WHOLE = 0.85

const UNKNOWN_SIZE = 'the paper is neither A4 nor US Letter: its proportions were told from the perspective alone; give its size with --paper'

const UNLIKELY = 'no camera sees a sheet of paper quite so: a photo that was cropped, or paper that does not lie flat, looks like this'

/** A sheet of no known size: proportions from the perspective, their doubt among the alternatives; the known sizes are among them where no camera would see it so. */
const ofUnknownSize = (quad: PaperQuad, picture: Picture, known: PaperChoice): Surface | null => {
  const guess = guessShape(quad.corners, picture)
  if (guess === null) return null
  const isUnlikely = guess.choice.misfit > MOST_MISFIT
  const fit = fitPaper(quad, guess.choice, picture)
  const { sizeMm } = guess.choice
  const others = [guess.other?.homography ?? null, ...(isUnlikely ? [known.homography, known.next] : [])].flatMap((h) => (h === null ? [] : [planeMap(h, fit.map.radial)]))
  const moved = movedCorners(fit.corners as Quad, sizeMm, Math.hypot(fit.uCornerPx, CUT * (sizeMm[0] + sizeMm[1])), fit.map.radial)
  return { ...bareSurface, by: 'paper', map: fit.map, outline: fit.corners, corners: fit.corners, bow: fit.bow, alternatives: [...others, ...moved, ...fit.otherLens], loose: true, doubts: [isUnlikely ? `${UNLIKELY}; its proportions are hardly known: give its size with --paper` : UNKNOWN_SIZE] }
}

/**
 * A sheet of paper all of whose corners are in the picture.
 * @param blank outline of one that bears no marks: another is looked for
 */
export const paperSurface = (raster: Raster, { paperMm }: Hints, blank: readonly Point[] | null): Surface | null => {
  const quad = findPaperQuad(raster, (corners) => choosePaper(corners, raster, paperMm)?.misfit ?? Number.POSITIVE_INFINITY, blank)
  const choice = quad === null ? null : choosePaper(quad.corners, raster, paperMm)
  if (quad === null || choice === null) return null
  const isUnlikely = choice.misfit > MOST_MISFIT
  if (isUnlikely && quad.support <= WHOLE) return null
  if (isUnlikely && paperMm === undefined) return ofUnknownSize(quad, raster, choice)
  const fit = fitPaper(quad, choice, raster)
  const { maps, doubts } = paperMm === undefined ? otherSizes(quad.corners, choice, raster) : { maps: [], doubts: isUnlikely ? [`${UNLIKELY}; or its size is not the one given`] : [] }
  const alternatives = [...movedCorners(fit.corners as Quad, choice.sizeMm, fit.uCornerPx, fit.map.radial), ...fit.otherLens, ...maps.map((h) => planeMap(h, fit.map.radial))]
  return { ...bareSurface, by: 'paper', map: fit.map, outline: fit.corners, corners: fit.corners, metric: true, bow: fit.bow, alternatives, loose: maps.length > 0, guessed: paperMm === undefined, paperMm: choice.sizeMm, doubts }
}
