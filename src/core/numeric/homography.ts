import { linearLeastSquares } from './least-squares.ts'

/** Row-major 3 × 3 projective map of the plane; the last element is 1 where it can be. */
export type Homography = readonly [number, number, number, number, number, number, number, number, number]

type Pair = readonly [x: number, y: number]

/** [x, y] → (a·x + b·y + c, d·x + e·y + f) / (g·x + h·y + i). */
export const applyHomography = (m: Homography, place: Pair): [number, number] => {
  const x = place[0]
  const y = place[1]
  const w = m[6] * x + m[7] * y + m[8]
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w]
}

/** How the image moves with the place: [∂x'/∂x, ∂x'/∂y, ∂y'/∂x, ∂y'/∂y]. */
export const homographySlopes = (m: Homography, place: Pair): readonly [number, number, number, number] => {
  const w = m[6] * place[0] + m[7] * place[1] + m[8]
  const [x, y] = applyHomography(m, place)
  return [(m[0] - x * m[6]) / w, (m[1] - x * m[7]) / w, (m[3] - y * m[6]) / w, (m[4] - y * m[7]) / w]
}

/** First `second`, then `first`: the matrix product first · second, scaled to a last element of 1. */
export const composeHomographies = (first: Homography, second: Homography): Homography => {
  const product = Array.from({ length: 9 }, (_, n) => {
    const row = 3 * Math.floor(n / 3)
    const column = n % 3
    return [0, 1, 2].reduce((sum, k) => sum + (first[row + k] as number) * (second[3 * k + column] as number), 0)
  })
  const last = product[8] as number
  return product.map((value) => value / (Math.abs(last) > 1e-300 ? last : 1)) as unknown as Homography
}

/** The map back; all elements infinite or NaN when the map is singular. */
export const invertHomography = ([a, b, c, d, e, f, g, h, i]: Homography): Homography => {
  const adjugate = [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d]
  const last = adjugate[8] as number
  return adjugate.map((value) => value / last) as unknown as Homography
}

/** Similarity that puts the points' mean at the origin and their rms distance at √2 (Hartley 1997). */
const normaliser = (points: readonly Pair[]): Homography => {
  const mx = points.reduce((sum, p) => sum + p[0], 0) / points.length
  const my = points.reduce((sum, p) => sum + p[1], 0) / points.length
  const spread = Math.sqrt(points.reduce((sum, p) => sum + (p[0] - mx) ** 2 + (p[1] - my) ** 2, 0) / points.length)
  const scale = Math.SQRT2 / (spread || 1)
  return [scale, 0, -scale * mx, 0, scale, -scale * my, 0, 0, 1]
}

/**
 * The homography that takes `from` to `to`, by linear least squares on centred and scaled points; exact for four.
 * @returns null for fewer than four points, or when three of four lie on a line
 */
export const fitHomography = (from: readonly Pair[], to: readonly Pair[]): Homography | null => {
  if (from.length < 4 || from.length !== to.length) return null
  const before = normaliser(from)
  const after = normaliser(to)
  const rows: number[][] = []
  const values: number[] = []
  from.forEach((point, n) => {
    const [x, y] = applyHomography(before, point)
    const [u, v] = applyHomography(after, to[n] as Pair)
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y])
    values.push(u, v)
  })
  const columns = Array.from({ length: 8 }, (_, j) => rows.map((row) => row[j] as number))
  const fit = linearLeastSquares(columns, values)
  if (fit === null || fit.coefficients.some((value) => !Number.isFinite(value))) return null
  const middle = [...fit.coefficients, 1] as unknown as Homography
  return composeHomographies(invertHomography(after), composeHomographies(middle, before))
}

/**
 * The map under which lines that are counted 0, 1, 2 … stand upright and evenly spaced: x is the count, u = (a·x + b·y + c) / (g·x + h·y + i) by linear
 * least squares; the third row is the image of the line at infinity. Nothing is told along the lines: y has no unit, and is slanted.
 * @param counts of the line through each place, whole or between two lines
 * @returns null for fewer than five places, or when they tell no perspective
 */
export const fitEvenLines = (from: readonly Pair[], counts: readonly number[]): Homography | null => {
  const before = normaliser(from)
  const mean = counts.reduce((sum, u) => sum + u, 0) / counts.length
  const off = counts.map((u) => u - mean)
  const [xs, ys] = [0, 1].map((axis) => from.map((point) => applyHomography(before, point)[axis] as number)) as [number[], number[]]
  const fit = linearLeastSquares([xs, ys, xs.map(() => 1), xs.map((x, n) => -x * (off[n] as number)), ys.map((y, n) => -y * (off[n] as number))], off)
  if (fit === null || fit.coefficients.some((value) => !Number.isFinite(value))) return null
  const [a, b, c, g, h] = fit.coefficients as [number, number, number, number, number]
  return composeHomographies([a + mean * g, b + mean * h, c + mean, -b, a, 0, g, h, 1], before)
}
