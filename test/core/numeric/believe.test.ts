import { describe, expect, it } from 'vitest'
import { believe } from '#core/numeric/believe'
import { linearLeastSquares } from '#core/numeric/least-squares'

const columns = [[1, 1, 1, 1, 1], [-2, -1, 0, 1, 3]]
const y = [0.1, 1.2, 1.9, 3.3, 5.2]

describe('least squares with something known beforehand', () => {
  it('is ordinary least squares where nothing is known', () => {
    const belief = believe(columns, y, { variance: 1, beforehand: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY] })
    const ordinary = linearLeastSquares(columns, y)
    belief?.means.forEach((mean, i) => expect(mean).toBeCloseTo(ordinary?.coefficients[i] ?? Number.NaN, 12))
  })
  it('one number seen n times with variance v and known to u: n·ȳ/(n + v/u²), variance 1/(n/v + 1/u²) (by hand)', () => {
    const belief = believe([[1, 1, 1, 1]], [2, 4, 3, 3], { variance: 2, beforehand: [0.5] })
    expect(belief?.means[0]).toBeCloseTo((4 * 3) / (4 + 2 / 0.25), 12)
    expect(belief?.covariance[0]?.[0]).toBeCloseTo(1 / (4 / 2 + 1 / 0.25), 12)
  })
  it('null for a column of zeros', () => {
    expect(believe([[0, 0]], [1, 2], { variance: 1, beforehand: [1] })).toBeNull()
  })
})
