import { mean, rms } from '#core/numeric/moments'
import type { Homography } from '#core/numeric/homography'
import { type LeastSquaresProblem, levenbergMarquardt } from '#core/numeric/levenberg-marquardt'
import { lensSlope, type PlaneMap, planeMap, type Radial, radialAbout, straighten, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Picture, Point } from '#core/detect/raster'
import type { PaperQuad } from './find-quad.ts'
import { seenAt } from './corners-surface.ts'
import { type PaperChoice, sheetCorners } from './paper-size.ts'

/** How far the paper's edges bow between middle and ends, what lens and perspective explain left out: rms over the four, px, and its standard uncertainty. */
export interface Bow {
  readonly px: number
  readonly uPx: number
}

export interface PaperFit {
  readonly map: PlaneMap
  readonly corners: readonly Point[]
  /** Standard uncertainty of one coordinate of a corner, px: scatter along a side, its points taken in runs, and the cut of the paper. */
  readonly uCornerPx: number
  /** The map with the lens's term moved by its standard uncertainty, the corners where they are. */
  readonly otherLens: readonly PlaneMap[]
  readonly bow: Bow
}

/** |k| beyond this is not a phone's. */
const K_SPREAD = 0.06
/** Neighbouring edge points share the same unevenness of the cut and the shadow: only every so many count as independent. */
const RUN = 4
/** How truly a sheet is cut, mm at a corner (common practice, no source). */
const CUT_MM = 0.1

const mapFrom = (parameters: readonly number[], { width, height }: Picture): PlaneMap =>
  planeMap([...parameters.slice(0, 8), 1] as unknown as Homography, radialAbout(width, height, parameters[8] as number))

/** Traced points with the side that each belongs to. */
type Traced = readonly (readonly [side: number, point: Point])[]

type Size = readonly [width: number, height: number]

/** Distance in mm of a traced point from the side it belongs to: sides are y = 0, x = w, y = h, x = 0. */
const fromSide = (side: number, [x, y]: Point, [w, h]: Size): number =>
  side === 0 ? y : side === 1 ? x - w : side === 2 ? y - h : x

const trimmed = (map: PlaneMap, quad: PaperQuad, choice: PaperChoice): Traced => {
  const all = quad.edges.flatMap((edge, side) => edge.points.map((point) => [side, point] as const))
  const sizes = all.map(([side, p]) => Math.abs(fromSide(side, toPlane(map, p), choice.sizeMm)))
  const limit = 3.5 * ([...sizes].sort((a, b) => a - b)[sizes.length >> 1] ?? 0) + 0.02
  return all.filter((_, i) => (sizes[i] as number) < limit)
}

/** How a traced point's distance from its side changes with the map's numbers that bear on it: [which, by how much, mm]. */
const slopesOf = ([side, point]: Traced[number], { homography, radial }: PlaneMap): readonly (readonly [number, number])[] => {
  const { k, centrePx: [cx, cy], scalePx } = radial as Radial
  const [x, y] = straighten(radial, point)
  const row = side % 2 === 0 ? 3 : 0
  const [a, b, c] = homography.slice(row, row + 3) as [number, number, number]
  const [, , , , , , g, h] = homography
  const share = 1 / (g * x + h * y + 1)
  const off = share * (a * x + b * y + c)
  const bent = lensSlope(k, ((x - cx) ** 2 + (y - cy) ** 2) / scalePx ** 2)
  return [[row, share * x], [row + 1, share * y], [row + 2, share], [6, -share * off * x], [7, -share * off * y], [8, share * bent * ((a - off * g) * (x - cx) + (b - off * h) * (y - cy))]]
}

/** What keeps the lens's term to what phones have, in px. */
const LENS_PULL = 0.3 / K_SPREAD

/** Distances of the traced points from their sides, px, and the lens's term; parameters are eight numbers of the homography and that term. */
const problemOf = (traced: Traced, perMm: number, size: Size, picture: Picture): LeastSquaresProblem => ({
  residuals: (p) => {
    const map = mapFrom(p, picture)
    return Float64Array.of(...traced.map(([side, point]) => perMm * fromSide(side, toPlane(map, point), size)), LENS_PULL * (p[8] as number))
  },
  jacobian: (p) => {
    const map = mapFrom(p, picture)
    const columns = p.map(() => new Float64Array(traced.length + 1))
    traced.forEach((one, i) => {
      for (const [column, slope] of slopesOf(one, map)) (columns[column] as Float64Array)[i] = perMm * slope
    })
    ;(columns[8] as Float64Array)[traced.length] = LENS_PULL
    return columns
  },
})

/** What a straight line cannot follow along a side, from end to middle: 1 apart. */
const bowAt = (along: number): number => (2 * along - 1) ** 2 - 1 / 3

/** @param sigmaMm how far one place strays from its side */
const bowOf = (traced: Traced, map: PlaneMap, size: Size, sigmaMm: number): { readonly mm: number; readonly uMm: number } => {
  const sides = [0, 1, 2, 3].map((side) => {
    let [product, square] = [0, 1e-12]
    for (const [of, point] of traced) {
      if (of !== side) continue
      const place = toPlane(map, point)
      const shape = bowAt(side % 2 === 0 ? place[0] / size[0] : place[1] / size[1])
      product += shape * fromSide(side, place, size)
      square += shape * shape
    }
    return { bow: product / square, variance: (RUN * sigmaMm ** 2) / square }
  })
  return { mm: rms(sides.map(({ bow }) => bow)), uMm: Math.sqrt(mean(sides.map(({ variance }) => variance))) }
}

/**
 * Homography and one radial term from hundreds of places along the four sides of a sheet of known size: the sides of a real
 * sheet are straight, so how they bow in the photo tells the lens distortion.
 */
export const fitPaper = (quad: PaperQuad, choice: PaperChoice, picture: Picture): PaperFit => {
  const last = choice.homography[8]
  const perMm = Math.hypot(quad.corners[1][0] - quad.corners[0][0], quad.corners[1][1] - quad.corners[0][1]) / choice.sizeMm[0]
  const fitFrom = (parameters: readonly number[]) => {
    const traced = trimmed(mapFrom(parameters, picture), quad, choice)
    return { traced, ...levenbergMarquardt(problemOf(traced, perMm, choice.sizeMm, picture), parameters, { iterations: 24, tolerance: 1e-12 }) }
  }
  const first = fitFrom([...choice.homography.slice(0, 8).map((v) => v / last), 0])
  const { traced, parameters, sumOfSquares, inverseNormal } = fitFrom(first.parameters)
  const map = mapFrom(parameters, picture)
  const variance = sumOfSquares / Math.max(1, traced.length - 9)
  const corners = sheetCorners(choice.sizeMm).map((p) => toPhoto(map, p))
  const uLens = Math.sqrt(variance * RUN * (inverseNormal?.[8]?.[8] ?? 0))
  const bow = bowOf(traced, map, choice.sizeMm, Math.sqrt(variance) / perMm)
  return {
    map,
    corners,
    otherLens: seenAt(corners, choice.sizeMm, radialAbout(picture.width, picture.height, (parameters[8] as number) + uLens)),
    bow: { px: bow.mm * perMm, uPx: bow.uMm * perMm },
    uCornerPx: Math.hypot(2 * Math.sqrt((variance * RUN) / Math.max(4, traced.length / 4)), CUT_MM * perMm),
  }
}
