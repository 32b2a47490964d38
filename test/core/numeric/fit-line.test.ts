import { fitLine, fitLineYork } from '#core/numeric/fit-line'
import { describe, expect, it } from 'vitest'

// Pearson's points with York's weights, as printed in Lybanon, Am. J. Phys. 52 (1984) and copied in the tests of a public metrology library.
const x = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
const ux = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1].map((w) => 1 / Math.sqrt(w))
const uy = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500].map((w) => 1 / Math.sqrt(w))
const points = x.map((value, i) => [value, y[i] as number] as const)

describe('line fits', () => {
  it('give the orthogonal line through Pearson’s points (values recomputed independently; problem: Pearson 1901)', () => {
    const line = fitLine(points)
    const slope = (line?.direction[1] ?? 0) / (line?.direction[0] ?? 1)
    expect(slope).toBeCloseTo(-0.545561197520965, 12)
    expect((line?.point[1] ?? 0) - slope * (line?.point[0] ?? 0)).toBeCloseTo(5.784043774530085, 11)
    expect(line?.rmsDistance).toBeCloseTo(0.24871123003, 10)
  })

  it('give the published line for errors in both coordinates: 5.47991022, −0.480533407 (J. Phys. E 22 (1989) 215)', () => {
    const line = fitLineYork(points, ux, uy)
    expect(line?.intercept).toBeCloseTo(5.47991022, 7)
    expect(line?.slope).toBeCloseTo(-0.480533407, 8)
    expect((line?.chiSquared ?? 0) / 8).toBeCloseTo(1.4833, 4)
  })

  it('give the published standard uncertainties 0.29193, 0.057617 and covariance −0.0162 (Meas. Sci. Technol. 3 (1992) 1113) to 2 %: two conventions of adjusted points differ by that', () => {
    const line = fitLineYork(points, ux, uy)
    expect(Math.abs((line?.uIntercept ?? 0) / 0.29193 - 1)).toBeLessThan(0.02)
    expect(Math.abs((line?.uSlope ?? 0) / 0.057617 - 1)).toBeLessThan(0.02)
    expect(Math.abs((line?.covariance ?? 0) / -0.0162 - 1)).toBeLessThan(0.03)
  })

  it('turn over when x and y are exchanged: slope 1/b, intercept −a/b', () => {
    const line = fitLineYork(points.map(([a, b]) => [b, a] as const), uy, ux)
    expect(line?.slope).toBeCloseTo(-2.0810208, 6)
    expect(line?.intercept).toBeCloseTo(11.403807, 5)
  })

  it('refuse points that coincide', () => {
    expect(fitLine([[1, 1], [1, 1]])).toBeNull()
  })
})
