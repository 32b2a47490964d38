import { describe, expect, it } from 'vitest'
import { fitLineYork } from '#core/numeric/fit-line'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { mean, standardDeviation } from '#core/numeric/moments'
import { combined, coverageFactorFor, degreesOfFreedomFrom, effectiveDegreesOfFreedom } from '#core/rig/budget'
import { rectangular, resolution } from '#core/rig/type-b'

// Examples of JCGM 100:2008 (GUM), inputs and results as reproduced in the documentation and tests of a public uncertainty
// library that cites the clauses; digits beyond the Guide's own are marked "recomputed".

describe('H.1, end gauge: budget and effective degrees of freedom (nm)', () => {
  const parts = [
    { uDeg: 25, degreesOfFreedom: 18 },
    { uDeg: 5.8, degreesOfFreedom: 24 },
    { uDeg: 3.9, degreesOfFreedom: 5 },
    { uDeg: 6.7, degreesOfFreedom: 8 },
    // δα: rectangular ±1e-6/°C on 0.1 °C of 50 mm; δθ: rectangular ±0.05 °C on 11.5e-6/°C of 50 mm.
    { uDeg: rectangular(1e-6) * 0.1 * 5e7, degreesOfFreedom: 50 },
    { uDeg: rectangular(0.05) * 11.5e-6 * 5e7, degreesOfFreedom: 2 },
  ]
  it('components 2.88679 and 16.599 from their half-widths', () => {
    expect(parts[4]?.uDeg).toBeCloseTo(2.88675, 4)
    expect(parts[5]?.uDeg).toBeCloseTo(16.599, 3)
  })
  it('combined 31.66, ν_eff 16.75, truncated to 16', () => {
    expect(combined(parts)).toBeCloseTo(31.6637674, 3)
    expect(effectiveDegreesOfFreedom(parts)).toBeCloseTo(16.7521, 2)
  })
  it('t99(16) = 2.92, U99 = 93 nm to the digits printed (92.5 recomputed)', () => {
    const k = coverageFactorFor(effectiveDegreesOfFreedom(parts), 0.99)
    expect(k).toBeCloseTo(2.92, 2)
    expect(Math.abs(k * combined(parts) - 93)).toBeLessThan(0.6)
  })
  it('the deviation d: u 9.68, ν 25.4', () => {
    expect(combined(parts.slice(1, 4))).toBeCloseTo(9.68194, 4)
    expect(effectiveDegreesOfFreedom(parts.slice(1, 4))).toBeCloseTo(25.447, 2)
  })
})

it('G.4.1: 0.25, 0.57, 0.82 % with 9, 4, 14 degrees of freedom: ν_eff 19, t95 2.09, U 2.15 %', () => {
  const parts = [
    { uDeg: 0.25, degreesOfFreedom: 9 },
    { uDeg: 0.57, degreesOfFreedom: 4 },
    { uDeg: 0.82, degreesOfFreedom: 14 },
  ]
  expect(effectiveDegreesOfFreedom(parts)).toBeCloseTo(19, 1)
  expect(coverageFactorFor(effectiveDegreesOfFreedom(parts), 0.95)).toBeCloseTo(2.09, 2)
  expect(coverageFactorFor(effectiveDegreesOfFreedom(parts), 0.95) * combined(parts)).toBeCloseTo(2.15, 1)
})

it('G.4.2: an uncertainty known to 25, 10, 50 % has 8, 50, 2 degrees of freedom', () => {
  expect([0.25, 0.1, 0.5].map(degreesOfFreedomFrom)).toEqual([8, expect.closeTo(50, 9), 2])
})

describe('Table G.2, Student’s t', () => {
  const degrees = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 15, 20, 30, 50]
  // From memory of the table; each digit agrees with an independent computation.
  const table = [
    [0.95, [12.71, 4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.13, 2.09, 2.04, 2.01]],
    [0.9545, [13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28, 2.18, 2.13, 2.09, 2.05]],
    [0.99, [63.66, 9.92, 5.84, 4.6, 4.03, 3.71, 3.5, 3.36, 3.25, 3.17, 2.95, 2.85, 2.75, 2.68]],
  ] as const
  for (const [probability, column] of table)
    it(`${probability}`, () => {
      degrees.forEach((freedom, i) => expect(Math.abs(coverageFactorFor(freedom, probability) - (column[i] ?? 0))).toBeLessThan(0.0051))
    })
  it('is 2 at 95.45 % without limit, and truncates fractions (G.4.1)', () => {
    expect(coverageFactorFor(null)).toBe(2)
    expect(coverageFactorFor(16.75)).toBe(coverageFactorFor(16))
  })
})

it('Type B: 1 mm read to the millimetre 0.2887 mm, a calliper of 0.05 mm 0.01443 mm, ±0.5 mm rectangular the same as the first', () => {
  expect(resolution(1)).toBeCloseTo(0.288675134594813, 14)
  expect(resolution(0.05)).toBeCloseTo(0.0144337567, 9)
  expect(rectangular(0.5)).toBeCloseTo(resolution(1), 15)
})

it('H.2: means of the five readings with their standard uncertainties', () => {
  const sets = [
    [[5.007, 4.994, 5.005, 4.99, 4.999], 4.999, 0.0032],
    [[19.663, 19.639, 19.64, 19.685, 19.678], 19.661, 0.0095],
    [[1.0456, 1.0438, 1.0468, 1.0428, 1.0433], 1.04446, 0.00075],
  ] as const
  for (const [values, centre, u] of sets) {
    expect(mean(values)).toBeCloseTo(centre, 10)
    expect(Math.abs(standardDeviation(values) / Math.sqrt(5) / u - 1)).toBeLessThan(0.01)
  }
})

describe('H.3, straight line through eleven thermometer readings (about 20 °C)', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const fit = linearLeastSquares([t.map(() => 1), t.map((v) => v - 20)], b)
  const [intercept = 0, slope = 0] = fit?.coefficients ?? []
  const [[vii = 0, vis = 0] = [], [, vss = 0] = []] = fit?.covariance ?? []
  it('intercept −0.1712, slope 0.00218 (all digits: −0.17120379013135, 0.0021826977398873)', () => {
    expect(intercept).toBeCloseTo(-0.17120379013135, 13)
    expect(slope).toBeCloseTo(0.0021826977398872894, 14)
  })
  it('their uncertainties 0.0029 and 0.00067, correlation −0.930, nine degrees of freedom', () => {
    expect(Math.sqrt(vii)).toBeCloseTo(0.00287759783515996, 12)
    expect(Math.sqrt(vss)).toBeCloseTo(0.0006679387732278323, 13)
    expect(vis / Math.sqrt(vii * vss)).toBeCloseTo(-0.930429603093446, 9)
    expect(fit?.residualSumOfSquares).toBeCloseTo(0.000110096583109, 13)
    expect(fit?.degreesOfFreedom).toBe(9)
  })
  it('correction at 30 °C: −0.1494 with u 0.0041, the correlation counted', () => {
    expect(intercept + 10 * slope).toBeCloseTo(-0.149376812732478, 12)
    expect(Math.sqrt(vii + 100 * vss + 20 * vis)).toBeCloseTo(0.004138595752855, 11)
  })
})

// ISO/TS 28037:2010, p. 13 and p. 21, as cited in the tests of the same library.
describe('ISO/TS 28037 straight lines', () => {
  it('equal weights: 1.8667 + 1.7571·x', () => {
    const fit = linearLeastSquares([[1, 1, 1, 1, 1, 1], [1, 2, 3, 4, 5, 6]], [3.3, 5.6, 7.1, 9.3, 10.7, 12.1])
    expect(fit?.coefficients[0]).toBeCloseTo(1.866667, 6)
    expect(fit?.coefficients[1]).toBeCloseTo(1.757143, 6)
    expect((fit?.residualSumOfSquares ?? 0) / 0.25).toBeCloseTo(1.665, 3)
  })
  it('errors in both coordinates: 0.5788 + 2.1597·x, χ² 2.743', () => {
    const points = [[1.2, 3.4], [1.9, 4.4], [2.9, 7.2], [4, 8.5], [4.7, 10.8], [5.9, 13.5]] as const
    const fit = fitLineYork(points, points.map(() => 0.2), [0.2, 0.2, 0.2, 0.4, 0.4, 0.4])
    expect(fit?.intercept).toBeCloseTo(0.5788, 4)
    expect(fit?.slope).toBeCloseTo(2.1597, 4)
    expect(fit?.chiSquared).toBeCloseTo(2.743, 3)
    // Two linearisations of the uncertainties are in use; they differ by up to 0.004 here.
    expect(Math.abs((fit?.uIntercept ?? 0) - 0.4764)).toBeLessThan(0.004)
    expect(Math.abs((fit?.uSlope ?? 0) - 0.1355)).toBeLessThan(0.004)
  })
})
