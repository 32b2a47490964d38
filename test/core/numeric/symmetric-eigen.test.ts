import { symmetricEigen } from '#core/numeric/symmetric-eigen'
import { describe, expect, it } from 'vitest'

describe('eigenvalues of a symmetric matrix', () => {
  it('are 2 + √2, 2, 2 − √2 for the second-difference matrix (closed form 2 − 2·cos(kπ/4))', () => {
    const values = symmetricEigen([[2, -1, 0], [-1, 2, -1], [0, -1, 2]]).map(({ value }) => value)
    expect(values[0]).toBeCloseTo(2 + Math.SQRT2, 14)
    expect(values[1]).toBeCloseTo(2, 14)
    expect(values[2]).toBeCloseTo(2 - Math.SQRT2, 14)
  })

  it('rebuild the matrix from their vectors, a repeated value included', () => {
    const matrix = [[3, 1, 1, 0], [1, 3, 1, 0], [1, 1, 3, 0], [0, 0, 0, 2]]
    const pairs = symmetricEigen(matrix)
    matrix.forEach((row, i) => row.forEach((v, j) => expect(pairs.reduce((sum, { value, vector }) => sum + value * (vector[i] as number) * (vector[j] as number), 0)).toBeCloseTo(v, 13)))
  })

  it('are the diagonal of a diagonal matrix, and nothing of an empty one', () => {
    expect(symmetricEigen([[1, 0], [0, 4]]).map(({ value }) => value)).toEqual([4, 1])
    expect(symmetricEigen([])).toEqual([])
  })
})
