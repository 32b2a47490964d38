import type { Point } from '#core/detect/raster'
import { homographySlopes } from '#core/numeric/homography'
import { cameraOf, type SheetSolution } from './fit-sheet.ts'
import { seenAt } from './sheet-camera.ts'
import type { Place } from './page-size.ts'

/** What the map's parameters being uncertain does to a point's image: ∂(x, y)/∂parameter for each parameter, px. */
const imageSlopes = ({ model, parameters }: SheetSolution, place: Place): readonly Point[] =>
  parameters.map((value, j) => {
    const step = 1e-6
    const seen = (by: number) => seenAt(cameraOf(model, parameters.map((v, i) => (i === j ? value + by : v))), place)
    const [above, below] = [seen(step), seen(-step)]
    return [(above[0] - below[0]) / (2 * step), (above[1] - below[1]) / (2 * step)]
  })

const quadratic = (matrix: readonly (readonly number[])[], a: readonly number[], b: readonly number[]): number =>
  matrix.reduce((sum, row, i) => sum + (a[i] as number) * row.reduce((inner, value, j) => inner + value * (b[j] as number), 0), 0)

/** Covariance of a place's image, px²: [xx, xy, yy]. */
export const imageCovariance = (solution: SheetSolution, sigmaPx: number, place: Place): readonly [number, number, number] => {
  const slopes = imageSlopes(solution, place)
  const [x, y] = [slopes.map((slope) => slope[0]), slopes.map((slope) => slope[1])]
  const variance = sigmaPx * sigmaPx
  return [
    variance * quadratic(solution.inverseNormal, x, x),
    variance * quadratic(solution.inverseNormal, x, y),
    variance * quadratic(solution.inverseNormal, y, y),
  ]
}

/** What the same does to the rectified place of a fixed pixel, along a direction of the sheet: mm per parameter. */
const placeSlopes = (solution: SheetSolution, place: Place, along: Place): readonly number[] => {
  const [a, b, c, d] = homographySlopes(cameraOf(solution.model, solution.parameters).homography, place)
  const det = a * d - b * c
  return imageSlopes(solution, place).map(([x, y]) => -(along[0] * (d * x - b * y) + along[1] * (a * y - c * x)) / det)
}

/** rms standard deviation, over these places, of a linear function of the map once its mean over them is taken out. */
const spreadOver = (solution: SheetSolution, sigmaPx: number, slopes: readonly (readonly number[])[]): number => {
  const mean = solution.parameters.map((_, j) => slopes.reduce((sum, slope) => sum + (slope[j] as number), 0) / slopes.length)
  const total = slopes.reduce((sum, slope) => {
    const free = slope.map((value, j) => value - (mean[j] as number))
    return sum + quadratic(solution.inverseNormal, free, free)
  }, 0)
  return sigmaPx * Math.sqrt(total / slopes.length)
}

const directions = Array.from({ length: 24 }, (_, n) => (2 * Math.PI * n) / 24)

/** Standard uncertainty of an angle about the printed centre at this radius, what turns all angles alike left out, deg. */
export const angleDoubt = (solution: SheetSolution, sigmaPx: number, radiusMm: number): number => {
  const slopes = directions.map((angle) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)]
    return placeSlopes(solution, [radiusMm * c, -radiusMm * s], [-s, -c]).map((mm) => mm / radiusMm)
  })
  return (spreadOver(solution, sigmaPx, slopes) * 180) / Math.PI
}

/** Standard uncertainty of a position along a strip, between these two ticks, a common shift left out, mm. */
export const positionDoubt = (solution: SheetSolution, sigmaPx: number, [from, to]: readonly [number, number]): number => {
  const places = Array.from({ length: 11 }, (_, n): Place => [from + ((to - from) * n) / 10, 0])
  return spreadOver(solution, sigmaPx, places.map((place) => placeSlopes(solution, place, [1, 0])))
}
