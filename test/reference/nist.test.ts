import { describe, expect, it } from 'vitest'
import { harmonicsOf } from '#core/figures/harmonics'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { fitNonlinear } from '#core/numeric/fit-nonlinear'
import { mean, standardDeviation } from '#core/numeric/moments'
import { enso, lew, mavro, michelson, norrisX, norrisY, pontiusY } from './nist.ts'

// Certified values: NIST/ITL Statistical Reference Datasets, original .dat files.
const near = (value: number | undefined, certified: number, relative = 1e-9): void => expect(Math.abs((value ?? Number.NaN) / certified - 1)).toBeLessThan(relative)

const alternating = (first: number, low: number, high: number): number[] => [first, ...Array.from({ length: 500 }, () => [low, high]).flat()]
const ones = (n: number): number[] => new Array<number>(n).fill(1)

describe('NIST univariate sets: mean and standard deviation (n − 1)', () => {
  // NumAcc4's numbers cannot be held exactly in doubles: its s comes out no closer than 4e-9.
  const cases = [
    ['NumAcc1', [10000001, 10000003, 10000002], 10000002, 1, 1e-12],
    ['NumAcc2', alternating(1.2, 1.1, 1.3), 1.2, 0.1, 1e-12],
    ['NumAcc3', alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-9],
    ['NumAcc4', alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-8],
    ['Michelso', michelson, 299.8524, 0.0790105478190518, 1e-12],
    ['Mavro', mavro, 2.001856, 0.000429123454003053, 1e-12],
    ['Lew', lew, -177.435, 277.332168044316, 1e-13],
  ] as const
  for (const [name, values, certifiedMean, certifiedS, relative] of cases)
    it(name, () => {
      near(mean(values), certifiedMean, 1e-14)
      near(standardDeviation(values), certifiedS, relative)
    })
})

const deviation = (variance: number | undefined): number => Math.sqrt(variance ?? Number.NaN)

describe('NIST linear regression', () => {
  it('Norris: both coefficients, their deviations and the residual', () => {
    const fit = linearLeastSquares([ones(36), norrisX], norrisY)
    near(fit?.coefficients[0], -0.262323073774029)
    near(fit?.coefficients[1], 1.00211681802045, 1e-13)
    near(deviation(fit?.covariance[0]?.[0]), 0.232818234301152)
    near(deviation(fit?.covariance[1]?.[1]), 0.429796848199937e-3)
    near(fit?.covariance[0]?.[1], -7.7432753633957e-5)
    near(fit?.residualSumOfSquares, 26.6173985294224)
    expect(fit?.degreesOfFreedom).toBe(34)
  })

  it('Pontius: a parabola over x up to 3,000,000 (x kept as it is, squares and all)', () => {
    const x = Array.from({ length: 40 }, (_, i) => 150000 * ((i % 20) + 1))
    const fit = linearLeastSquares([ones(40), x, x.map((v) => v * v)], pontiusY)
    near(fit?.coefficients[0], 0.673565789473684e-3)
    near(fit?.coefficients[1], 0.732059160401003e-6)
    near(fit?.coefficients[2], -0.316081871345029e-14)
    near(deviation(fit?.covariance[0]?.[0]), 0.107938612033077e-3)
    near(deviation(fit?.covariance[2]?.[2]), 0.486652849992036e-16)
  })

  it('NoInt1 and NoInt2: through the origin', () => {
    const one = linearLeastSquares([Array.from({ length: 11 }, (_, i) => 60 + i)], Array.from({ length: 11 }, (_, i) => 130 + i))
    near(one?.coefficients[0], 2.07438016528926, 1e-13)
    near(deviation(one?.covariance[0]?.[0]), 0.165289256198347e-1)
    const two = linearLeastSquares([[4, 5, 6]], [3, 4, 4])
    near(two?.coefficients[0], 0.727272727272727, 1e-13)
    near(deviation(two?.covariance[0]?.[0]), 0.420827318078432e-1)
  })
})

const months = Array.from({ length: 168 }, (_, i) => i + 1)
const cosine = (period: number): number[] => months.map((x) => Math.cos((2 * Math.PI * x) / period))
const sine = (period: number): number[] => months.map((x) => Math.sin((2 * Math.PI * x) / period))

describe('NIST ENSO: sine waves in a long noisy record', () => {
  it('gives the seven linear certified parameters when both free periods stand at their certified values', () => {
    const [slow, quick] = [44.3110887, 26.88761444]
    const fit = linearLeastSquares([ones(168), cosine(12), sine(12), cosine(slow), sine(slow), cosine(quick), sine(quick)], enso)
    const certified = [10.510749193, 3.0762128085, 0.53280138227, -1.6231428586, 0.52554493756, 0.21232288488, 1.4966870418]
    // The periods are printed to eleven digits, the parameters follow them to about nine.
    certified.forEach((value, i) => near(fit?.coefficients[i], value, 1e-8))
    near(fit?.residualSumOfSquares, 788.53978668)
  })

  it('reaches all nine certified parameters and their deviations from the second start', () => {
    const residuals = ([b1, b2, b3, b4, b5, b6, b7, b8, b9]: readonly number[]): number[] => {
      const wave = (c: number | undefined, s: number | undefined, period: number | undefined, x: number): number => (c ?? 0) * Math.cos((2 * Math.PI * x) / (period ?? 1)) + (s ?? 0) * Math.sin((2 * Math.PI * x) / (period ?? 1))
      return months.map((x, i) => (b1 ?? 0) + wave(b2, b3, 12, x) + wave(b5, b6, b4, x) + wave(b8, b9, b7, x) - (enso[i] ?? 0))
    }
    const fit = fitNonlinear(residuals, [10, 3, 0.5, 44, -1.5, 0.5, 26, -0.1, 1.5], [1, 1, 1, 1, 1, 1, 1, 1, 1], 200)
    const certified = [10.510749193, 3.0762128085, 0.53280138227, 44.3110887, -1.6231428586, 0.52554493756, 26.88761444, 0.21232288488, 1.4966870418]
    const deviations = [0.17488832467, 0.24310052139, 0.24354686618, 0.94408025976, 0.28078369611, 0.48073701119, 0.4161293913, 0.51460022911, 0.25434468893]
    near(fit.residualSumOfSquares, 788.53978668)
    // The sum is flat at its least: a last gain of 1e-12 leaves the parameters good to about 1e-5.
    certified.forEach((value, i) => near(fit.parameters[i], value, 1e-4))
    deviations.forEach((value, i) => near(deviation(fit.cofactors?.[i]?.[i]) * Math.sqrt(fit.residualSumOfSquares / 159), value, 1e-4))
  })

  // Computed from the same data: 168 months are 14 whole years, so the yearly pair stands alone (it equals the DFT bin).
  it('finds the yearly wave as order 1 of a cycle of twelve commands: amplitude 3.0904200605, phase 8.9387° before the cosine', () => {
    const yearly = harmonicsOf([0, ...enso], { stepsPerRev: 48, microsteps: 3, withTurn: false }).find(({ order }) => order === 1)
    expect(yearly?.amplitudeDeg).toBeCloseTo(3.0904200605, 9)
    expect(90 - (yearly?.phaseDeg ?? 0)).toBeCloseTo(8.938716693, 8)
    expect(yearly?.significant).toBe(true)
  })
})

describe('NIST small nonlinear sets', () => {
  it('Misra1a from its second start', () => {
    const x = [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760]
    const y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78]
    const fit = fitNonlinear(([b1, b2]) => x.map((v, i) => (b1 ?? 0) * (1 - Math.exp(-(b2 ?? 0) * v)) - (y[i] ?? 0)), [250, 5e-4], [100, 1e-4], 200)
    near(fit.parameters[0], 238.94212918, 1e-6)
    near(fit.parameters[1], 5.5015643181e-4, 1e-6)
    near(fit.residualSumOfSquares, 0.12455138894, 1e-8)
  })

  it('DanWood from its first start', () => {
    const x = [1.309, 1.471, 1.49, 1.565, 1.611, 1.68]
    const y = [2.138, 3.421, 3.597, 4.34, 4.882, 5.66]
    const fit = fitNonlinear(([b1, b2]) => x.map((v, i) => (b1 ?? 0) * v ** (b2 ?? 0) - (y[i] ?? 0)), [1, 5], [1, 1], 200)
    near(fit.parameters[0], 0.76886226176, 1e-6)
    near(fit.parameters[1], 3.8604055871, 1e-6)
    near(fit.residualSumOfSquares, 0.0043173084083, 1e-8)
  })
})
