import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import type { Detection, Hints, RectifiedBy } from './detection.ts'
import { type PlaneMap, photoPlane } from './plane-map.ts'
import type { Point } from './raster.ts'

/** The sheet the marks are on, as far as the photo tells. */
export interface Surface {
  readonly by: RectifiedBy
  readonly map: PlaneMap
  /** Outline of the part of the picture that marks may be on, px, clockwise as seen; null when it is not known. */
  readonly outline: readonly Point[] | null
  /** The corners that the map was told by, px, clockwise as seen, in view or not; left out when it was told otherwise. */
  readonly corners?: readonly Point[]
  /** True when a plane unit is a millimetre, if the paper is of the size its shape was taken for: see isSized. */
  readonly metric: boolean
  /** Other maps the photo would allow, each as likely as its neighbour within its doubt: their spread is the rectification's uncertainty. */
  readonly alternatives: readonly PlaneMap[]
  /** True when the map leans on what lens is usual, so that a full turn of marks may tell more. */
  readonly loose: boolean
  /** The printed sheet, when that is what it is. */
  readonly sheet: SheetFix | null
  /** Radii, mm about the sheet's centre, between which marks are drawn; null when not known. */
  readonly ringMm: readonly [inner: number, outer: number] | null
  /** True when the map leans on a size that nobody said: other sheets have nearly the shape of A4, and A5 (148 × 210 mm, ISO 216) is 0.3 % longer for its width. */
  readonly guessed?: boolean
  /** Size the paper was taken to have, when its proportions carry the map. */
  readonly paperMm?: readonly [width: number, height: number]
  /** How far the paper's edges bow, where all four were traced: a sheet that does not lie flat, px between middle and ends and its standard uncertainty. */
  readonly bow?: { readonly px: number; readonly uPx: number }
  readonly doubts: readonly string[]
}

/** Is a plane unit surely a millimetre? Smaller sheets have the shape of A4, too, so a paper's size must have been said. */
export const isSized = ({ metric, sheet }: Pick<Surface, 'metric' | 'sheet'>, { paperMm }: Hints): boolean => metric && (sheet !== null || paperMm !== undefined)

/** Is the perspective open, so that marks, squares or a circle may tell more of it? */
export const isOpen = ({ by, loose }: Pick<Surface, 'by' | 'loose'>): boolean => by === 'none' || loose

/** Nothing known: the photo itself is the plane. */
export const bareSurface: Surface = { by: 'none', map: photoPlane, outline: null, metric: false, alternatives: [], loose: false, sheet: null, ringMm: null, doubts: [] }

/** What a person can check the perspective by: the paper's corners, the targets of a printed sheet. */
export const frameOf = ({ by, corners, sheet }: Surface): Pick<Detection, 'cornersPx' | 'targets'> => ({
  cornersPx: by === 'paper' || by === 'corners' ? (corners ?? null) : null,
  ...(sheet === null ? {} : { targets: sheet.targets.map(({ px, used }) => ({ px, used })) }),
})
