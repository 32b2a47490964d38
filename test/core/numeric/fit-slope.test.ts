import { describe, expect, it } from 'vitest'
import { fitSlope } from '#core/numeric/fit-slope'

describe('a straight line of least squares', () => {
  it('is y = 2.5 + 1.5 (x − 2) for (1, 1), (2, 2.5), (3, 4)', () => {
    expect(fitSlope([1, 2, 3], [1, 2.5, 4])).toEqual({ mean: 2, height: 2.5, slope: 1.5, spread: 2 })
  })

  it('has the slope of GUM H.3, a thermometer’s calibration (JCGM 100:2008, Table H.6)', () => {
    const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
    const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
    const { mean, height, slope } = fitSlope(t, b)
    expect(slope).toBeCloseTo(0.0021826977398872894, 14)
    expect(height + slope * (20 - mean)).toBeCloseTo(-0.17120379013135, 13)
  })

  it('counts a value of weight 2 twice, and has no slope over one place', () => {
    expect(fitSlope([0, 1, 3], [0, 2, 1], [1, 2, 1])).toEqual(fitSlope([0, 1, 1, 3], [0, 2, 2, 1]))
    expect(fitSlope([1, 1], [0, 2]).slope).toBeNaN()
  })
})
