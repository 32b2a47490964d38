import { factorPacked, solvePacked } from '#core/numeric/packed-cholesky'
import { seededRandom } from '#core/numeric/seeded-random'
import { Matrix, solve } from 'ml-matrix'
import { describe, expect, it } from 'vitest'

describe('Cholesky factor in one array', () => {
  it('by hand: [[4, 2], [2, 5]] = L·Lᵀ with L = [[2, 0], [1, 2]]', () => {
    const lower = Float64Array.of(4, Number.NaN, 2, 5)
    expect(factorPacked(lower, 2)).toBe(true)
    expect([lower[0], lower[2], lower[3]]).toEqual([2, 1, 2])
    // [4 2; 2 5]·x = [8, 8] has x = [1.5, 1].
    expect([...solvePacked(lower, Float64Array.of(8, 8))]).toEqual([1.5, 1])
  })

  // Outside reference: ml-matrix's solver (LU); condition below 100 for these matrices, so 1e-12 is rounding.
  it('solves as ml-matrix does', () => {
    const random = seededRandom(5)
    for (let size = 1; size < 16; size++) {
      const half = Matrix.zeros(size, size)
      for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) half.set(i, j, random() - 0.5 + (i === j ? size : 0))
      const normal = half.mmul(half.transpose())
      const right = Float64Array.from({ length: size }, () => random())
      const packed = Float64Array.from(normal.to1DArray())
      expect(factorPacked(packed, size)).toBe(true)
      const wanted = solve(normal, Matrix.columnVector([...right])).to1DArray()
      solvePacked(packed, right).forEach((value, i) => expect(value).toBeCloseTo(wanted[i] as number, 12))
    }
  })

  it('says so when the matrix is not positive definite', () => {
    expect(factorPacked(Float64Array.of(1, 0, 2, 1), 2)).toBe(false)
    expect(factorPacked(Float64Array.of(0), 1)).toBe(false)
  })
})
