import type { Homography } from '#core/numeric/homography'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import { type PlaneMap, planeMap, radialAbout, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import type { PaperQuad } from './find-quad.ts'
import { type PaperChoice, sheetCorners } from './paper-size.ts'

export interface PaperFit {
  readonly map: PlaneMap
  readonly corners: readonly Point[]
  /** rms distance of the traced edge from the fitted side, px. */
  readonly residualPx: number
  /** Standard uncertainty of one coordinate of a corner, px: scatter along a side, its points taken in runs, and the cut of the paper. */
  readonly uCornerPx: number
}

/** |k| beyond this is not a phone's. */
const K_SPREAD = 0.06
/** Neighbouring edge points share the same unevenness of the cut and the shadow: only every so many count as independent. */
const RUN = 4
/** How truly a sheet is cut, mm at a corner (common practice, no source). */
const CUT_MM = 0.1

const mapFrom = (parameters: readonly number[], [width, height]: readonly [number, number]): PlaneMap =>
  planeMap([...parameters.slice(0, 8), 1] as unknown as Homography, radialAbout(width, height, parameters[8] as number))

/** Distance in mm of a traced point from the side it belongs to: sides are y = 0, x = w, y = h, x = 0. */
const fromSide = (side: number, [x, y]: Point, [w, h]: readonly [number, number]): number =>
  side === 0 ? y : side === 1 ? x - w : side === 2 ? y - h : x

const trimmed = (map: PlaneMap, quad: PaperQuad, choice: PaperChoice): (readonly [side: number, point: Point])[] => {
  const all = quad.edges.flatMap((edge, side) => edge.points.map((point) => [side, point] as const))
  const sizes = all.map(([side, p]) => Math.abs(fromSide(side, toPlane(map, p), choice.sizeMm)))
  const limit = 3.5 * ([...sizes].sort((a, b) => a - b)[sizes.length >> 1] ?? 0) + 0.02
  return all.filter((_, i) => (sizes[i] as number) < limit)
}

/**
 * Homography and one radial term from hundreds of places along the four sides of a sheet of known size: the sides of a real
 * sheet are straight, so how they bow in the photo tells the lens distortion.
 */
export const fitPaper = (quad: PaperQuad, choice: PaperChoice, picture: readonly [number, number]): PaperFit => {
  const last = choice.homography[8]
  let parameters: readonly number[] = [...choice.homography.slice(0, 8).map((v) => v / last), 0]
  const scales = [1, 1, 300, 1, 1, 300, 1 / picture[0], 1 / picture[0], 0.05].map((v, i) => (i < 8 ? v * 0.01 : v))
  const perMm = Math.hypot(quad.corners[1][0] - quad.corners[0][0], quad.corners[1][1] - quad.corners[0][1]) / choice.sizeMm[0]
  let fit = null
  let used: readonly (readonly [number, Point])[] = []
  for (let round = 0; round < 2; round++) {
    const start = mapFrom(parameters, picture)
    used = trimmed(start, quad, choice)
    const residuals = (p: readonly number[]): number[] => {
      const map = mapFrom(p, picture)
      const out = used.map(([side, point]) => perMm * fromSide(side, toPlane(map, point), choice.sizeMm))
      out.push((0.3 * (p[8] as number)) / K_SPREAD)
      return out
    }
    fit = fitNonlinear(residuals, parameters, scales, 12)
    parameters = fit.parameters
  }
  const map = mapFrom(parameters, picture)
  const variance = (fit?.residualSumOfSquares ?? 0) / Math.max(1, used.length - 9)
  return {
    map,
    corners: sheetCorners(choice.sizeMm).map((p) => toPhoto(map, p)),
    residualPx: Math.sqrt(variance),
    uCornerPx: Math.hypot(2 * Math.sqrt((variance * RUN) / Math.max(4, used.length / 4)), CUT_MM * perMm),
  }
}
