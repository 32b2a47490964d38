import { describe, expect, it } from 'vitest'
import { cholesky, choleskyInverse, choleskySolve } from '#core/numeric/cholesky'

describe('Cholesky', () => {
  // by hand: [[4, 2, −2], [2, 10, 2], [−2, 2, 6]] = L·Lᵀ with L = [[2, 0, 0], [1, 3, 0], [−1, 1, 2]]
  const matrix = [
    [4, 2, -2],
    [2, 10, 2],
    [-2, 2, 6],
  ]
  it('factors, solves and inverts', () => {
    const lower = cholesky(matrix) ?? []
    expect(lower).toEqual([
      [2, 0, 0],
      [1, 3, 0],
      [-1, 1, 2],
    ])
    // matrix·(1, 2, 3) = (2, 28, 20)
    choleskySolve(lower, [2, 28, 20]).forEach((x, i) => expect(x).toBeCloseTo(i + 1, 13))
    const inverse = choleskyInverse(lower)
    matrix.forEach((row, i) =>
      matrix.forEach((_, j) => {
        const product = row.reduce((sum, v, m) => sum + v * (inverse[m]?.[j] ?? 0), 0)
        expect(product).toBeCloseTo(i === j ? 1 : 0, 13)
      }),
    )
  })

  it('gives null for what is not positive definite', () => {
    expect(cholesky([[1, 2], [2, 1]])).toBeNull()
    expect(cholesky([[0]])).toBeNull()
  })
})
