import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import { impliedDesign } from '#core/detect/sheet/implied-design'
import { sheetPlaces } from '#core/detect/sheet/sheet-outline'
import { pointerZone } from '#core/detect/sheet/zone'
import { fitHomography } from '#core/numeric/homography'
import type { Hints, RectifiedBy } from './detection.ts'
import { findPaperQuad, type PaperQuad, type Quad } from './paper/find-quad.ts'
import { findPartialPaper } from './paper/find-partial.ts'
import { choosePaper, guessShape, KNOWN_SHEETS, OPEN_MARGIN, OPEN_SIZE, otherSizes, sheetCorners } from '#core/detect/paper/paper-size'
import { outlineAbout } from './paper/outline.ts'
import { fitPaper } from './paper/fit-paper.ts'
import { type PlaneMap, photoPlane, planeMap, radialAbout, straighten, toPhoto, toPlane } from './plane-map.ts'
import type { Picture, Point, Raster } from './raster.ts'
import { lensWords, RADIAL_SPREAD } from './lens.ts'

/** The sheet the marks are on, as far as the photo tells. */
export interface Surface {
  readonly by: RectifiedBy
  readonly map: PlaneMap
  /** Outline of the paper, px, clockwise as seen; null when it is not in view. */
  readonly outline: readonly Point[] | null
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
  readonly doubts: readonly string[]
}

/** Is a plane unit surely a millimetre? Smaller sheets have the shape of A4, too, so a paper's size must have been said. */
export const isSized = ({ metric, sheet }: Pick<Surface, 'metric' | 'sheet'>, { paperMm }: Hints): boolean => metric && (sheet !== null || paperMm !== undefined)

/** Is the perspective open, so that marks, squares or a circle may tell more of it? */
export const isOpen = ({ by, loose }: Pick<Surface, 'by' | 'loose'>): boolean => by === 'none' || loose

const clockwise = (points: readonly Point[]): Quad => {
  const cx = points.reduce((sum, p) => sum + p[0] / 4, 0)
  const cy = points.reduce((sum, p) => sum + p[1] / 4, 0)
  return [...points].sort((a, b) => Math.atan2(a[1] - cy, a[0] - cx) - Math.atan2(b[1] - cy, b[0] - cx)) as unknown as Quad
}

/** A corner set by hand is believed to about this share of the picture's longer side. */
const HAND = 0.0008

/** The same sheet with each corner's coordinate moved by its uncertainty, one at a time. */
const movedCorners = (corners: Quad, sizeMm: readonly [number, number], uPx: number): PlaneMap[] =>
  corners.flatMap((_, i) =>
    ([[uPx, 0], [0, uPx]] as const).flatMap(([dx, dy]) => {
      const moved = corners.map((p, j): Point => (j === i ? [p[0] + dx, p[1] + dy] : p))
      const map = fitHomography(moved, sheetCorners(sizeMm))
      return map === null ? [] : [planeMap(map)]
    }),
  )

/** The same corners seen through a lens that bends by one spread more: four corners alone cannot tell it. */
const throughLens = (corners: Quad, sizeMm: readonly [number, number], { width, height }: Raster): PlaneMap[] => {
  const radial = radialAbout(width, height, RADIAL_SPREAD)
  const map = fitHomography(corners.map((p) => straighten(radial, p)), sheetCorners(sizeMm))
  return map === null ? [] : [planeMap(map, radial)]
}

/** Four corners whose shape fits the paper worse than this are something else's. */
const MOST_MISFIT = 25

const GIVEN_SHAPE = 'the corners given are those of neither A4 nor US Letter: the proportions were told from the perspective alone; give the size with --paper'

/** Four points given of no known size: proportions from the perspective, in no known unit. */
const fromGivenShape = (raster: Raster, corners: Quad): Surface | null => {
  const guess = guessShape(corners, raster)
  if (guess === null) return null
  const { choice, other } = guess
  const moved = movedCorners(corners, choice.sizeMm, HAND * Math.max(raster.width, raster.height))
  const alternatives = [...moved, ...throughLens(corners, choice.sizeMm, raster), ...(other === null ? [] : [planeMap(other.homography)])]
  return { by: 'corners', map: planeMap(choice.homography), outline: corners, metric: false, alternatives, loose: true, sheet: null, ringMm: null, doubts: [GIVEN_SHAPE] }
}

const fromGivenCorners = (raster: Raster, given: readonly Point[], paperMm: Hints['paperMm']): Surface | null => {
  const corners = clockwise(given)
  const choice = choosePaper(corners, raster, paperMm)
  if (choice === null) return null
  if (paperMm === undefined && choice.misfit > MOST_MISFIT) return fromGivenShape(raster, corners)
  const alternatives = [...movedCorners(corners, choice.sizeMm, HAND * Math.max(raster.width, raster.height)), ...throughLens(corners, choice.sizeMm, raster)]
  const doubts = paperMm !== undefined ? [] : choice.margin < OPEN_MARGIN ? [OPEN_SIZE] : [`the corners were taken for those of a sheet of ${choice.sizeMm.join(' × ')} mm, by its shape; say otherwise with --paper`]
  return { by: 'corners', map: planeMap(choice.homography), outline: corners, metric: true, alternatives, loose: false, sheet: null, ringMm: null, doubts }
}

/** A sheet cut by hand has its corners out of square by about this share of its width and height together (common practice, no source). */
const CUT = 0.0005

const UNKNOWN_SIZE = 'the paper is neither A4 nor US Letter: its proportions were told from the perspective alone; give its size with --paper'

/** A sheet of no known size: proportions from the perspective, their doubt among the alternatives. */
const fromUnknownSize = (quad: PaperQuad, picture: Picture): Surface | null => {
  const guess = guessShape(quad.corners, picture)
  if (guess === null || guess.choice.misfit > MOST_MISFIT) return null
  const fit = fitPaper(quad, guess.choice, picture)
  const { sizeMm } = guess.choice
  const other = guess.other === null ? [] : [planeMap(guess.other.homography, fit.map.radial)]
  const moved = movedCorners(fit.corners as Quad, sizeMm, Math.hypot(fit.uCornerPx, CUT * (sizeMm[0] + sizeMm[1])))
  return { by: 'paper', map: fit.map, outline: fit.corners, metric: false, alternatives: [...other, ...moved], loose: true, sheet: null, ringMm: null, doubts: [UNKNOWN_SIZE] }
}

const fromPaper = (raster: Raster, paperMm: Hints['paperMm'], blank: readonly Point[] | null): Surface | null => {
  const quad = findPaperQuad(raster, (corners) => choosePaper(corners, raster, paperMm)?.misfit ?? Number.POSITIVE_INFINITY, blank)
  const choice = quad === null ? null : choosePaper(quad.corners, raster, paperMm)
  if (quad === null || choice === null) return null
  if (choice.misfit > MOST_MISFIT) return paperMm === undefined && quad.support > 0.85 ? fromUnknownSize(quad, raster) : null
  const fit = fitPaper(quad, choice, raster)
  const { maps, doubts } = paperMm === undefined ? otherSizes(quad.corners, choice, raster) : { maps: [], doubts: [] }
  const alternatives = [...movedCorners(fit.corners as Quad, choice.sizeMm, fit.uCornerPx), ...maps.map((h) => planeMap(h, fit.map.radial))]
  return { by: 'paper', map: fit.map, outline: fit.corners, metric: true, alternatives, loose: maps.length > 0, guessed: paperMm === undefined, sheet: null, ringMm: null, paperMm: choice.sizeMm, doubts }
}

const threeSides = (raster: Raster): string => `only three sides of the paper are in view: the perspective was told from them and ${lensWords(raster)}; keep all four in view`

/** The part of the sheet that is in the picture, clockwise as seen; a sheet of unknown length goes on as far as the picture does. */
const visiblePart = (map: PlaneMap, [w, h]: readonly [number, number], { width, height }: Raster): readonly Point[] | null => {
  const inside = ([x, y]: Point): number => Math.min(x, w - x, y, h - y)
  const frame: Point[] = Array.from({ length: 80 }, (_, i) => {
    const t = (i % 20) / 20
    return ([[t, 0], [1, t], [1 - t, 1], [0, 1 - t]] as const)[Math.floor(i / 20)] as Point
  }).map(([x, y]) => [x * (width - 1), y * (height - 1)])
  return outlineAbout([...frame.filter((p) => inside(toPlane(map, p)) > 0), ...sidesIn(map, [w, h], [width, height])])
}

/** The sheet's sides as far as they are in the picture: many places along them, corners among them. */
const sidesIn = (map: PlaneMap, size: readonly [number, number], [width, height]: readonly [number, number]): Point[] => {
  const corners = sheetCorners(size)
  return corners.flatMap(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4] as Point
    return Array.from({ length: 101 }, (_, n): Point => [ax + (n / 100) * (bx - ax), ay + (n / 100) * (by - ay)])
      .filter(([x, y]) => map.inverse[6] * x + map.inverse[7] * y + map.inverse[8] > 0)
      .map((p) => toPhoto(map, p))
      .filter(([x, y]) => x >= 0 && y >= 0 && x < width && y < height)
  })
}

/** Longer than any sheet, as a multiple of its width. */
const ENDLESS = 4

const fromPartialPaper = (raster: Raster, paperMm: Hints['paperMm']): Surface | null => {
  const paper = findPartialPaper(raster, paperMm === undefined ? KNOWN_SHEETS : [paperMm])
  if (paper === null) return null
  const { fit, other, whole, sizeMm } = paper
  const size = whole ? sizeMm : ([sizeMm[0], ENDLESS * sizeMm[0]] as const)
  const alternatives = [...fit.alternatives, ...(other === null ? [] : [other.map])]
  const doubts = whole ? (other === null || paperMm !== undefined ? [] : [OPEN_SIZE]) : [threeSides(raster)]
  return { by: 'paper', map: fit.map, outline: visiblePart(fit.map, size, raster), metric: whole, alternatives, loose: !whole, guessed: paperMm === undefined, sheet: null, ringMm: null, ...(whole ? { paperMm: sizeMm } : {}), doubts }
}

/** A strip's outermost marks may stand a little beyond its outermost targets. */
const BEYOND_TARGETS = 1.3

const widened = (outline: readonly Point[] | null, share: number): readonly Point[] | null => {
  if (outline === null) return null
  const cx = outline.reduce((sum, p) => sum + p[0], 0) / outline.length
  const cy = outline.reduce((sum, p) => sum + p[1], 0) / outline.length
  return outline.map(([x, y]): Point => [cx + share * (x - cx), cy + share * (y - cy)])
}

/** Where marks may be on a printed sheet. */
const outlineOf = (fix: SheetFix, ringMm: Surface['ringMm']): readonly Point[] | null => {
  const targets = fix.targets.map((t) => t.px)
  if (fix.rig === 'mirror') return widened(outlineAbout(targets), BEYOND_TARGETS)
  return outlineAbout([...targets, ...sheetPlaces(fix, ringMm === null ? null : ringMm[1])])
}

const fromSheet = (fix: SheetFix): Surface => {
  const ringMm = ringOf(fix)
  return { by: 'sheet', map: fix.map, outline: outlineOf(fix, ringMm), metric: true, alternatives: [], loose: false, sheet: fix, ringMm, doubts: [] }
}

/** Marks start up to 28 mm inside the tip and end before the numbers' ring; 1 mm for the hand. Without the code, by the targets. */
const ringOf = (fix: SheetFix): Surface['ringMm'] => {
  const { rig, payload } = fix
  if (rig !== 'pointer') return null
  if (payload === null) return impliedDesign(fix)?.ringMm ?? null
  const zone = pointerZone(payload.lengthMm)
  return zone.kind === 'ring' ? [zone.inner - 1, zone.numberRing + 1] : null
}

const NOTHING: Surface = { by: 'none', map: photoPlane, outline: null, metric: false, alternatives: [], loose: false, sheet: null, ringMm: null, doubts: [] }

/**
 * Down the ladder: a printed sheet, corners given, corners of a sheet of paper found, nothing.
 * @param blank outline of a sheet of paper in the picture that bears no marks
 */
export const findSurface = (raster: Raster, hints: Hints, sheet: SheetFix | null, blank: readonly Point[] | null = null): Surface => {
  if (sheet !== null) return fromSheet(sheet)
  const given = hints.cornersPx === undefined ? null : fromGivenCorners(raster, hints.cornersPx, hints.paperMm)
  return given ?? fromPaper(raster, hints.paperMm, blank) ?? (blank === null ? fromPartialPaper(raster, hints.paperMm) : null) ?? NOTHING
}
