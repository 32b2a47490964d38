import type { Hints } from '#core/detect/detection'
import { RADIAL_SPREAD } from '#core/detect/lens'
import { type PlaneMap, planeMap, type Radial, radialAbout, straighten } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { bareSurface, type Surface } from '#core/detect/surface'
import { fitHomography } from '#core/numeric/homography'
import type { Quad } from './find-quad.ts'
import { choosePaper, guessShape, MOST_MISFIT, OPEN_MARGIN, OPEN_SIZE, sheetCorners } from './paper-size.ts'

/** Corners in any order, clockwise as seen. */
const clockwise = (points: readonly Point[]): Quad => {
  const [cx, cy] = [0, 1].map((axis) => points.reduce((sum, p) => sum + (p[axis] as number) / 4, 0)) as [number, number]
  return [...points].sort((a, b) => Math.atan2(a[1] - cy, a[0] - cx) - Math.atan2(b[1] - cy, b[0] - cx)) as unknown as Quad
}

/** A corner set by hand is believed to about this share of the picture's longer side. */
const HAND = 0.0008

/** A sheet whose corners are seen at these places through such a lens; nothing where they are degenerate. */
export const seenAt = (corners: readonly Point[], sizeMm: readonly [number, number], radial: Radial | null): PlaneMap[] => {
  const map = fitHomography(corners.map((p) => straighten(radial, p)), sheetCorners(sizeMm))
  return map === null ? [] : [planeMap(map, radial)]
}

/** The same sheet, seen through the same lens, with each corner's coordinate moved by its uncertainty, one at a time. */
export const movedCorners = (corners: Quad, sizeMm: readonly [number, number], uPx: number, radial: Radial | null = null): PlaneMap[] =>
  corners.flatMap((_, i) => ([[uPx, 0], [0, uPx]] as const).flatMap(([dx, dy]) => seenAt(corners.map((p, j): Point => (j === i ? [p[0] + dx, p[1] + dy] : p)), sizeMm, radial)))

const GIVEN_SHAPE = 'the corners given are those of neither A4 nor US Letter: the proportions were told from the perspective alone; give the size with --paper'

/** The sheet whose four corners a person gave: of the size that was said, or that its shape has; else its proportions from the perspective, in no known unit. */
export const cornersSurface = (raster: Raster, { cornersPx, paperMm }: Hints): Surface | null => {
  if (cornersPx === undefined) return null
  const corners = clockwise(cornersPx)
  const known = choosePaper(corners, raster, paperMm)
  if (known === null) return null
  const isUnlike = paperMm === undefined && known.misfit > MOST_MISFIT
  const guess = isUnlike ? guessShape(corners, raster) : null
  if (isUnlike && guess === null) return null
  const { sizeMm, homography, margin } = guess?.choice ?? known
  const other = guess?.other ?? null
  // Four corners alone cannot tell how much the lens bends.
  const alternatives = [...movedCorners(corners, sizeMm, HAND * Math.max(raster.width, raster.height)), ...seenAt(corners, sizeMm, radialAbout(raster.width, raster.height, RADIAL_SPREAD)), ...(other === null ? [] : [planeMap(other.homography)])]
  const taken = margin < OPEN_MARGIN ? OPEN_SIZE : `the corners were taken for those of a sheet of ${sizeMm.join(' × ')} mm, by its shape; say otherwise with --paper`
  const doubts = guess !== null ? [GIVEN_SHAPE] : paperMm === undefined ? [taken] : []
  return { ...bareSurface, by: 'corners', map: planeMap(homography), outline: corners, corners, metric: guess === null, alternatives, loose: guess !== null, doubts }
}
