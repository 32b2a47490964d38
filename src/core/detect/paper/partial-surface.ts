import type { Hints } from '#core/detect/detection'
import { lensWords } from '#core/detect/lens'
import { type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { bareSurface, type Surface } from '#core/detect/surface'
import { findPartialPaper } from './find-partial.ts'
import { outlineAbout } from './outline.ts'
import { KNOWN_SHEETS, OPEN_SIZE, sheetCorners } from './paper-size.ts'

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

/** A sheet that reaches out of the picture, by the three or four sides that are partly in view. */
export const partialSurface = (raster: Raster, { paperMm }: Hints): Surface | null => {
  const paper = findPartialPaper(raster, paperMm === undefined ? KNOWN_SHEETS : [paperMm])
  if (paper === null) return null
  const { fit, other, whole, sizeMm } = paper
  const size = whole ? sizeMm : ([sizeMm[0], ENDLESS * sizeMm[0]] as const)
  const alternatives = [...fit.alternatives, ...(other === null ? [] : [other.map])]
  const doubts = whole ? (other === null || paperMm !== undefined ? [] : [OPEN_SIZE]) : [threeSides(raster)]
  return { ...bareSurface, by: 'paper', map: fit.map, outline: visiblePart(fit.map, size, raster), metric: whole, alternatives, loose: !whole, guessed: paperMm === undefined, ...(whole ? { paperMm: sizeMm } : {}), doubts }
}
