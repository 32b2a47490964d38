import type { Lens, Picture } from './raster.ts'

/** Of phone cameras (common practice, no source). */
const USUAL_LENS: Lens = { focal: 0.85, spread: 0.3 }

/** The photo's own lens where it names one, else the usual one. */
export const lensOf = ({ lens }: Picture): Lens => lens ?? USUAL_LENS

/** The same in words. */
export const lensWords = ({ lens }: Picture): string => (lens === undefined ? 'a usual lens' : 'the lens that the photo’s file names, which is true unless the photo was cropped')

/** Focal length, px of the picture. */
export const focalPx = (picture: Picture): number => lensOf(picture).focal * Math.max(picture.width, picture.height)

/** What a photo says of its lens is wrong once in twenty times, as where it was cropped and nothing tells: then any usual lens may have taken it. −2 ln(0.05 · 0.06 / 0.3), in units of variance (the share: common practice, no source). */
const MISTOLD = 9

/** ln of focal lengths over the picture's longer side: those so many spreads from the usual one, and the one that the photo names. */
export const lnFocalsAbout = ({ lens }: Picture, spreads: readonly number[]): readonly number[] => [
  ...spreads.map((z) => Math.log(USUAL_LENS.focal) + z * USUAL_LENS.spread),
  ...(lens === undefined ? [] : [Math.log(lens.focal)]),
]

const spreadsOff = ({ focal, spread }: Lens, lnFocal: number): number => (lnFocal - Math.log(focal)) / spread

/**
 * How far a focal length is from what is named or usual, squared, in units of variance.
 * @param lnFocal ln of the focal length over the picture's longer side
 */
export const lensCost = (picture: Picture, lnFocal: number): number =>
  Math.min(spreadsOff(lensOf(picture), lnFocal) ** 2, MISTOLD + spreadsOff(USUAL_LENS, lnFocal) ** 2)

/** Spread of one radial term among usual lenses (common practice, no source); see Radial. */
export const RADIAL_SPREAD = 0.03

/** tan of a usual angle of view where the photo does not tell it: 12° (common practice, no source). */
export const USUAL_TILT = 0.21

/** A phone held over the paper slants by anything up to this where nothing in the photo excludes it, rad (common practice, no source). */
export const MOST_TILT = (25 * Math.PI) / 180

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
