import { cholesky, choleskySolve } from './cholesky.ts'
import { type EllipseShape, ellipseFromAxes } from './ellipse.ts'
import { symmetricEigen } from './symmetric-eigen.ts'

type Pair = readonly [x: number, y: number]

/** The conic xx·x² + xy·x·y + yy·y² + x·x + y·y + one = 0 as [xx, xy, yy, x, y, one]. */
export type Conic = readonly [xx: number, xy: number, yy: number, x: number, y: number, one: number]

/** The ellipse a conic describes; null for any other kind, and for an imaginary one. */
export const ellipseOfConic = ([xx, xy, yy, x, y, one]: Conic): EllipseShape | null => {
  const determinant = 4 * xx * yy - xy * xy
  if (!(determinant > 0)) return null
  const centre: Pair = [(xy * y - 2 * yy * x) / determinant, (xy * x - 2 * xx * y) / determinant]
  const level = -(one + (x * centre[0] + y * centre[1]) / 2)
  const [large, small] = symmetricEigen([[xx / level, xy / 2 / level], [xy / 2 / level, yy / level]])
  if (large === undefined || small === undefined || !(small.value > 0)) return null
  const tilt = Math.atan2(small.vector[1] as number, small.vector[0] as number)
  return ellipseFromAxes(centre, { major: 1 / Math.sqrt(small.value), minor: 1 / Math.sqrt(large.value), tilt })
}

const scatter = (rows: readonly (readonly number[])[], others: readonly (readonly number[])[]): number[][] => {
  const [height, width] = [rows[0]?.length ?? 0, others[0]?.length ?? 0]
  return Array.from({ length: height }, (_, i) => Array.from({ length: width }, (__, j) => rows.reduce((sum, row, n) => sum + (row[i] as number) * (others[n]?.[j] as number), 0)))
}

/** The constraint 4·xx·yy − xy² = 1 as a quadratic form: what lets an ellipse through and nothing else (Fitzgibbon, Pilu & Fisher, IEEE PAMI 21 (1999) 476). */
const ELLIPSE_ONLY = [[0, 0, 2], [0, -1, 0], [2, 0, 0]] as const

/** Kept when the scatter is singular because the points lie exactly on an ellipse. */
const RIDGE = 1e-14

/** Quadratic part that minimises aᵀ·M·a under the constraint: the one positive eigenvalue of L⁻¹·C·L⁻ᵀ, M = L·Lᵀ. */
const constrained = (matrix: readonly (readonly number[])[]): readonly number[] | null => {
  const trace = matrix.reduce((sum, row, i) => sum + (row[i] as number), 0)
  const lower = cholesky(matrix.map((row, i) => row.map((v, j) => (v + (matrix[j]?.[i] as number)) / 2 + (i === j ? RIDGE * trace : 0))))
  if (lower === null) return null
  const inverse = lower.map((_, column) => forward(lower, lower.map((__, row) => (row === column ? 1 : 0))))
  const middle = inverse.map((p) => inverse.map((q) => p.reduce((sum, v, i) => sum + v * ELLIPSE_ONLY.reduce((s, row, k) => s + (row[i] as number) * (q[k] as number), 0), 0)))
  const [best] = symmetricEigen(middle.map((row, i) => row.map((v, j) => (v + (middle[j]?.[i] as number)) / 2)))
  if (best === undefined || !(best.value > 0)) return null
  return [0, 1, 2].map((i) => inverse.reduce((sum, column, j) => sum + (column[i] as number) * (best.vector[j] as number), 0))
}

/** The columns of L⁻ᵀ: solves Lᵀ·x = right. */
const forward = (lower: readonly (readonly number[])[], right: readonly number[]): number[] => {
  const x = [...right]
  for (let i = x.length - 1; i >= 0; i--) {
    for (let j = i + 1; j < x.length; j++) x[i] = (x[i] as number) - (lower[j]?.[i] as number) * (x[j] as number)
    x[i] = (x[i] as number) / (lower[i]?.[i] as number)
  }
  return x
}

/**
 * Ellipse of least squared algebraic distance under the constraint that it is one (Fitzgibbon et al. 1999), with quadratic and
 * linear parts taken apart for a stable eigenproblem (Halíř & Flusser, WSCG 1998). Quick, and biased towards small ellipses
 * on short noisy arcs: a start, not an end.
 * @returns null for fewer than five points, or points on a line
 */
export const algebraicEllipse = (points: readonly Pair[]): EllipseShape | null => {
  if (points.length < 5) return null
  const [mx, my] = [0, 1].map((k) => points.reduce((sum, p) => sum + (p[k] as number), 0) / points.length) as [number, number]
  const size = Math.sqrt(points.reduce((sum, p) => sum + (p[0] - mx) ** 2 + (p[1] - my) ** 2, 0) / points.length)
  if (!(size > 0)) return null
  const scaled = points.map((p): Pair => [(p[0] - mx) / size, (p[1] - my) / size])
  const quadratic = scaled.map(([x, y]) => [x * x, x * y, y * y])
  const linear = scaled.map(([x, y]) => [x, y, 1])
  const lower = cholesky(scatter(linear, linear))
  if (lower === null || lower.some((row, i) => (row[i] as number) ** 2 < 1e-12 * points.length)) return null
  const mixed = scatter(quadratic, linear)
  const back = mixed.map((row) => choleskySolve(lower, row))
  const own = scatter(quadratic, quadratic)
  const a = constrained(own.map((row, i) => row.map((v, j) => v - (back[i] as number[]).reduce((sum, w, k) => sum + w * (mixed[j]?.[k] as number), 0))))
  if (a === null) return null
  const b = [0, 1, 2].map((k) => -a.reduce((sum, v, i) => sum + v * (back[i]?.[k] as number), 0))
  const ellipse = ellipseOfConic([...a, ...b] as unknown as Conic)
  if (ellipse === null) return null
  const { centre, shape } = ellipse
  return { centre: [mx + size * centre[0], my + size * centre[1]], shape: [size * shape[0], size * shape[1], size * shape[2]] }
}
