import type { Hints } from '#core/detect/detection'
import { lensWords } from '#core/detect/lens'
import { type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { bareSurface, type Surface } from '#core/detect/surface'
import { findPartialPaper } from './find-partial.ts'
import { outlineAbout } from './outline.ts'
import { KNOWN_SHEETS, OPEN_SIZE, sheetCorners } from './paper-size.ts'

const threeSides = (raster: Raster): string => `only three sides of the paper are in view: the perspective was told from them and ${lensWords(raster)}; keep all four in view`

/** Is a place of the plane before the camera, not beyond the horizon? */
const isBefore = ({ inverse: [, , , , , , g, h, i] }: PlaneMap, [x, y]: Point): boolean => g * x + h * y + i > 0

/** The part of the sheet that is in the picture, clockwise as seen; a sheet of unknown length goes on as far as the picture does. */
const visiblePart = (map: PlaneMap, [w, h]: readonly [number, number], { width, height }: Raster): readonly Point[] | null => {
  const isOnSheet = ([x, y]: Point): boolean => Math.min(x, w - x, y, h - y) > 0 && isBefore(map, [x, y])
  const frame: Point[] = Array.from({ length: 80 }, (_, i) => {
    const t = (i % 20) / 20
    return ([[t, 0], [1, t], [1 - t, 1], [0, 1 - t]] as const)[Math.floor(i / 20)] as Point
  }).map(([x, y]) => [x * (width - 1), y * (height - 1)])
  return outlineAbout([...frame.filter((p) => isOnSheet(toPlane(map, p))), ...sidesIn(map, [w, h], [width, height])])
}

/** All four corners, in the picture or beyond its edges. */
const cornersIn = (map: PlaneMap, size: readonly [number, number]): Pick<Surface, 'corners'> => {
  const corners = sheetCorners(size)
  return corners.every((p) => isBefore(map, p)) ? { corners: corners.map((p) => toPhoto(map, p)) } : {}
}

/** Places looked at along a side for each width of the sheet. */
const PLACES = 25

/** The sheet's sides as far as they are in the picture: many places along them, corners among them. */
const sidesIn = (map: PlaneMap, size: readonly [number, number], [width, height]: readonly [number, number]): Point[] => {
  const corners = sheetCorners(size)
  return corners.flatMap(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4] as Point
    const places = Math.ceil((PLACES * Math.hypot(bx - ax, by - ay)) / Math.min(...size))
    return Array.from({ length: places + 1 }, (_, n): Point => [ax + (n / places) * (bx - ax), ay + (n / places) * (by - ay)])
      .filter((p) => isBefore(map, p))
      .map((p) => toPhoto(map, p))
      .filter(([x, y]) => x >= 0 && y >= 0 && x < width && y < height)
  })
}

/** Longer than any sheet, and than a strip whose marks are still seen one by one, as a multiple of its width. */
const ENDLESS = 25

/** A sheet that reaches out of the picture, by the three or four sides that are partly in view. */
export const partialSurface = (raster: Raster, { paperMm }: Hints): Surface | null => {
  const paper = findPartialPaper(raster, paperMm === undefined ? KNOWN_SHEETS : [paperMm])
  if (paper === null) return null
  const { fit, other, whole, sizeMm } = paper
  const size = whole ? sizeMm : ([sizeMm[0], ENDLESS * sizeMm[0]] as const)
  const alternatives = [...fit.alternatives, ...(other === null ? [] : [other.map])]
  const doubts = whole ? (other === null || paperMm !== undefined ? [] : [OPEN_SIZE]) : [threeSides(raster)]
  return { ...bareSurface, by: 'paper', map: fit.map, outline: visiblePart(fit.map, size, raster), metric: whole, alternatives, loose: !whole, guessed: paperMm === undefined, ...(whole ? { ...cornersIn(fit.map, sizeMm), paperMm: sizeMm } : {}), doubts }
}
