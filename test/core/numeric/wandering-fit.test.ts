import { describe, expect, it } from 'vitest'
import { cholesky, choleskySolve } from '#core/numeric/cholesky'
import { fitWandering, type Placed } from '#core/numeric/wandering-fit'

const placed: Placed = {
  rows: [[1, 0], [1, 0.4], [1, 1.1], [1, 1.5], [1, 2.6]],
  values: [0.3, 1.1, 0.7, 2.2, 2.9],
  places: [0, 0.4, 1.1, 1.5, 2.6],
  variances: [1, 1, 2, 1, 1.5],
}
const usual = { variance: 0.5, worth: 1 }

/** Generalised least squares with the whole covariance matrix (Aitken 1935), and ln of the values' chance with scatter and coefficients integrated out. */
const dense = ({ rows, values, places, variances }: Placed, { share, reach }: { readonly share: number; readonly reach: number }, precision: readonly number[]) => {
  const matrix = places.map((p, i) => places.map((q, j) => share * Math.exp(-Math.abs(p - q) / reach) + (i === j ? (variances[i] as number) : 0)))
  const lower = cholesky(matrix) as number[][]
  const solved = (column: readonly number[]): readonly number[] => choleskySolve(lower, column)
  const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, v, i) => sum + v * (b[i] as number), 0)
  const columns = precision.map((_, a) => rows.map((row) => row[a] as number))
  const normal = columns.map((a, i) => columns.map((b, j) => dot(a, solved(b)) + (i === j ? (precision[i] as number) : 0)))
  const given = [...(values as number[])]
  const right = columns.map((a) => dot(a, solved(given)))
  const inner = cholesky(normal) as number[][]
  const coefficients = choleskySolve(inner, right)
  const square = dot(given, solved(given)) - dot(coefficients, right)
  const logOf = (factor: readonly (readonly number[])[]): number => 2 * factor.reduce((sum, row, i) => sum + Math.log(row[i] as number), 0)
  const worth = usual.worth + rows.length - precision.filter((p) => p === 0).length
  const known = precision.reduce((sum, p) => sum + (p > 0 ? Math.log(p) : 0), 0)
  return { coefficients, evidence: (known - logOf(lower) - logOf(inner) - worth * Math.log(usual.worth * usual.variance + square)) / 2 }
}

describe('least squares with errors that wander', () => {
  // Weighted mean of 1, 4 with variances 1, 2: (1 + 2)/(1 + 0.5) = 2, variance 2/3 of the own one.
  it('is weighted least squares where nothing wanders', () => {
    const fit = fitWandering({ rows: [[1], [1]], values: [1, 4], places: [0, 1], variances: [1, 2] }, { wander: { share: 0, reach: 1 }, usual, precision: [0] })
    expect(fit?.coefficients[0]).toBeCloseTo(2, 12)
    // Squares left: 1 + 4/2 = 3, and the usual 0.5, over 1 + 2 − 1 values.
    expect(fit?.variance).toBeCloseTo(1.75, 12)
  })

  it.each([[0, 1, [0, 0]], [0.3, 0.7, [0, 0]], [4, 0.2, [0, 4]], [12, 3, [0, 1]]] as const)('equals the fit with the whole covariance matrix: share %d, reach %d', (share, reach, precision) => {
    const fit = fitWandering(placed, { wander: { share, reach }, usual, precision })
    const whole = dense(placed, { share, reach }, precision)
    expect(fit?.coefficients[0]).toBeCloseTo(whole.coefficients[0] as number, 10)
    expect(fit?.coefficients[1]).toBeCloseTo(whole.coefficients[1] as number, 10)
    expect(fit?.evidence).toBeCloseTo(whole.evidence, 10)
  })

  it('is none where the rows leave something open', () => {
    expect(fitWandering({ ...placed, rows: placed.rows.map(([a]) => [a as number, 2 * (a as number)]) }, { wander: { share: 1, reach: 1 }, usual, precision: [0, 0] })).toBeNull()
  })
})
