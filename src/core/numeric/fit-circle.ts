import { linearLeastSquares } from './least-squares.ts'
import { fitNonlinear } from './fit-nonlinear.ts'

type Pair = readonly [x: number, y: number]

export interface Circle {
  readonly centre: Pair
  readonly radius: number
  /** Covariance of (x, y, radius), scaled by the residuals; null when not determined. */
  readonly covariance: readonly (readonly number[])[] | null
  /** Root of the sum of squared distances from the circle. */
  readonly residualNorm: number
}

/**
 * Circle by linear least squares on x² + y² + a·x + b·y + c (Kåsa 1976): quick, but pulls the radius of short arcs in.
 * @returns null for fewer than three points or points on a line
 */
export const fitCircleKasa = (points: readonly Pair[]): { readonly centre: Pair; readonly radius: number } | null => {
  const mx = points.reduce((sum, p) => sum + p[0], 0) / points.length
  const my = points.reduce((sum, p) => sum + p[1], 0) / points.length
  const xs = points.map((p) => p[0] - mx)
  const ys = points.map((p) => p[1] - my)
  const fit = linearLeastSquares([xs, ys, points.map(() => 1)], xs.map((x, i) => x * x + (ys[i] as number) ** 2))
  if (fit === null) return null
  const [a, b, c] = fit.coefficients as [number, number, number]
  return { centre: [mx + a / 2, my + b / 2], radius: Math.sqrt(c + (a * a + b * b) / 4) }
}

/**
 * Circle of least squared distance ("geometric" fit of Gander, Golub & Strebel, BIT 34 (1994) 558), started from Kåsa's.
 * @returns null where Kåsa's fit fails
 */
export const fitCircle = (points: readonly Pair[]): Circle | null => {
  const start = fitCircleKasa(points)
  if (start === null) return null
  const residuals = ([x, y, r]: readonly number[]): number[] =>
    points.map((p) => Math.hypot(p[0] - (x as number), p[1] - (y as number)) - (r as number))
  const size = start.radius || 1
  const fit = fitNonlinear(residuals, [...start.centre, start.radius], [size, size, size], 200)
  const [x, y, radius] = fit.parameters as [number, number, number]
  const scale = points.length > 3 ? fit.residualSumOfSquares / (points.length - 3) : 0
  const covariance = fit.cofactors?.map((row) => row.map((v) => v * scale)) ?? null
  return { centre: [x, y], radius: Math.abs(radius), covariance, residualNorm: Math.sqrt(fit.residualSumOfSquares) }
}
