import type { Lens } from './raster.ts'

/** What a photo's file tells of its lens and of its size as it was taken (Exif 2.3, tags 0xA405, 0xA404, 0xA002, 0xA003); each may be lacking. */
export interface LensTags {
  /** mm on 35-mm film; 0 stands for an unknown one. */
  readonly focal35mm?: number | undefined
  readonly digitalZoom?: number | undefined
  /** px. */
  readonly width?: number | undefined
  readonly height?: number | undefined
}

/** Focal lengths that cameras have, mm on 35-mm film. */
const [SHORTEST, LONGEST] = [10, 200]
/** Longer side of the picture on 35-mm film, mm: 34.6 at 4 : 3 where makers go by the diagonal (43.27 mm), 36 where they go by the width. */
const FILM_MM = 35.3
/** That, the rounding to whole mm, and the focussing on something near (common practice, no source). */
const SPREAD = 0.06
/** Length over width of what whole sensors give; anything else was cropped. */
const WHOLE = [4 / 3, 3 / 2, 16 / 9]
const ALIKE = 0.006

/**
 * The lens that a photo names. Whoever crops a photo leaves its tags as they are: they are believed only where the picture still has the
 * size that the camera wrote down and a sensor's shape, and no digital zoom is named.
 * @param width px, as stored or upright
 * @returns undefined where nothing is named or what is named cannot be believed
 */
export const namedLens = (tags: LensTags, width: number, height: number): Lens | undefined => {
  const [long, short] = [Math.max(width, height), Math.min(width, height)]
  const said = [tags.width ?? 0, tags.height ?? 0]
  const asTaken = Math.max(...said) === long && Math.min(...said) === short && WHOLE.some((shape) => Math.abs(long / short / shape - 1) < ALIKE)
  // Nothing stands for none, and so does a numerator of 0.
  const zoom = tags.digitalZoom || 1
  const mm = tags.focal35mm ?? 0
  return asTaken && zoom === 1 && mm >= SHORTEST && mm <= LONGEST ? { focal: mm / FILM_MM, spread: SPREAD } : undefined
}
