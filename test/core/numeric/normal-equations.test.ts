import { describe, expect, it } from 'vitest'
import { solveNormal, twoWaves } from '#core/numeric/normal-equations'

describe('least squares by the normal equations', () => {
  it('is the line through three points by hand: y = 1/6 + 3/2·x through (0, 0), (1, 2), (2, 3)', () => {
    expect(solveNormal([[1, 0], [1, 1], [1, 2]], [0, 2, 3], [1, 1, 1])).toEqual([expect.closeTo(1 / 6, 12), expect.closeTo(3 / 2, 12)])
  })

  it('takes no notice of rows without weight', () => {
    expect(solveNormal([[1, 0], [1, 1], [1, 2]], [0, 2, Number.NaN], [1, 1, 0])).toEqual([expect.closeTo(0, 12), expect.closeTo(2, 12)])
  })

  it('finds the waves that a curve was made of', () => {
    const made = [1, 0.2, -0.1, 0.05, 0.03]
    const rows = Array.from({ length: 24 }, (_, n) => twoWaves((2 * Math.PI * n) / 24))
    expect(solveNormal(rows, rows.map((row) => row.reduce((sum, v, i) => sum + v * (made[i] as number), 0)), rows.map(() => 1))).toEqual(made.map((v) => expect.closeTo(v, 12)))
  })

  it('says nothing where unknowns are left open, and holds them to 0 when asked to', () => {
    expect(solveNormal([[1, 0], [1, 0]], [1, 3], [1, 1])).toBeNull()
    expect(solveNormal([[1, 0], [1, 0]], [1, 3], [1, 1], 1e-6)).toEqual([expect.closeTo(2, 12), 0])
  })
})
