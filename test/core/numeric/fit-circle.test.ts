import { fitCircle, fitCircleKasa } from '#core/numeric/fit-circle'
import { describe, expect, it } from 'vitest'

// Six points of Gander, Golub & Strebel, BIT 34 (1994) 558, as read in a public demonstration of that paper.
const gander = [[1, 7], [2, 6], [5, 8], [7, 7], [9, 5], [3, 7]] as const

describe('circle fits', () => {
  it('give the published geometric circle (4.7398, 2.9835), 4.7142 (from memory of the paper; digits beyond recomputed in double precision)', () => {
    const circle = fitCircle(gander)
    expect(circle?.centre[0]).toBeCloseTo(4.73978242, 6)
    expect(circle?.centre[1]).toBeCloseTo(2.98353275, 6)
    expect(circle?.radius).toBeCloseTo(4.714226, 6)
    expect(circle?.residualNorm).toBeCloseTo(1.107970703, 8)
  })

  it('give the linear (Kåsa) circle, computed independently: much smaller on this short arc', () => {
    const circle = fitCircleKasa(gander)
    expect(circle?.centre[0]).toBeCloseTo(4.742331288, 8)
    expect(circle?.centre[1]).toBeCloseTo(3.835122699, 8)
    expect(circle?.radius).toBeCloseTo(4.108761522, 8)
  })

  it('find a circle through exact points, and refuse a straight line', () => {
    const exact = [0, 1, 2, 3, 4].map((t) => [3 + 5 * Math.cos(t), -2 + 5 * Math.sin(t)] as const)
    const circle = fitCircle(exact)
    expect(circle?.centre[0]).toBeCloseTo(3, 9)
    expect(circle?.radius).toBeCloseTo(5, 9)
    expect(fitCircle([[0, 0], [1, 1], [2, 2]])).toBeNull()
  })
})
