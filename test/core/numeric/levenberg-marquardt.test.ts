import { describe, expect, it } from 'vitest'
import { type LeastSquaresProblem, levenbergMarquardt } from '#core/numeric/levenberg-marquardt'

// Data and certified values: NIST/ITL Statistical Reference Datasets, nonlinear regression, files Misra1a.dat, DanWood.dat and
// ENSO.dat. Certified to 11 digits; 1e-6 relative is asked, the square root of what double precision gives a sum of squares.

const pairs = (text: string): readonly (readonly [number, number])[] =>
  text.split(';').map((pair) => {
    const [x = Number.NaN, y = Number.NaN] = pair.split(',').map(Number)
    return [x, y]
  })

interface Curve {
  readonly value: (b: readonly number[], x: number) => number
  readonly slopes: (b: readonly number[], x: number) => readonly number[]
}

const problemOf = (data: readonly (readonly [number, number])[], { value, slopes }: Curve): LeastSquaresProblem => ({
  residuals: (b) => Float64Array.from(data, ([x, y]) => y - value(b, x)),
  jacobian: (b) => b.map((_, j) => Float64Array.from(data, ([x]) => -(slopes(b, x)[j] ?? 0))),
})

const expectCertified = (
  problem: LeastSquaresProblem,
  start: readonly number[],
  certified: { readonly b: readonly number[]; readonly sd: readonly number[]; readonly squares: number; readonly freedom: number },
): void => {
  const fit = levenbergMarquardt(problem, start, { tolerance: 0 })
  expect(fit.converged).toBe(true)
  expect(Math.abs(fit.sumOfSquares / certified.squares - 1)).toBeLessThan(1e-9)
  certified.b.forEach((b, j) => expect(Math.abs((fit.parameters[j] ?? 0) / b - 1)).toBeLessThan(1e-6))
  const variance = fit.sumOfSquares / certified.freedom
  certified.sd.forEach((sd, j) => expect(Math.abs(Math.sqrt((fit.inverseNormal?.[j]?.[j] ?? 0) * variance) / sd - 1)).toBeLessThan(1e-5))
}

describe('Levenberg–Marquardt on NIST reference problems', () => {
  const misra = pairs(
    '77.6,10.07;114.9,14.73;141.1,17.94;190.8,23.93;239.9,29.61;289,35.18;332.8,40.02;378.4,44.82;434.8,50.76;477.3,55.05;536.8,61.01;593.1,66.4;689.1,75.47;760,81.78',
  )
  it.each([[[500, 1e-4]], [[250, 5e-4]]])('Misra1a from %j', (start) => {
    const curve: Curve = {
      value: ([a = 0, b = 0], x) => a * (1 - Math.exp(-b * x)),
      slopes: ([a = 0, b = 0], x) => [1 - Math.exp(-b * x), a * x * Math.exp(-b * x)],
    }
    expectCertified(problemOf(misra, curve), start, {
      b: [238.94212918, 5.5015643181e-4],
      sd: [2.7070075241, 7.2668688436e-6],
      squares: 0.12455138894,
      freedom: 12,
    })
  })

  const danWood = pairs('1.309,2.138;1.471,3.421;1.49,3.597;1.565,4.34;1.611,4.882;1.68,5.66')
  it.each([[[1, 5]], [[0.7, 4]]])('DanWood from %j', (start) => {
    const curve: Curve = {
      value: ([a = 0, b = 0], x) => a * x ** b,
      slopes: ([a = 0, b = 0], x) => [x ** b, a * x ** b * Math.log(x)],
    }
    expectCertified(problemOf(danWood, curve), start, {
      b: [0.76886226176, 3.8604055871],
      sd: [0.01828197386, 0.051726610913],
      squares: 0.0043173084083,
      freedom: 4,
    })
  })

  const pressures = `12.9 11.3 10.6 11.2 10.9 7.5 7.7 11.7 12.9 14.3 10.9 13.7 17.1 14 15.3 8.5 5.7 5.5 7.6 8.6 7.3 7.6 12.7 11
12.7 12.9 13 10.9 10.4 10.2 8 10.9 13.6 10.5 9.2 12.4 12.7 13.3 10.1 7.8 4.8 3 2.5 6.3 9.7 11.6 8.6 12.4
10.5 13.3 10.4 8.1 3.7 10.7 5.1 10.4 10.9 11.7 11.4 13.7 14.1 14 12.5 6.3 9.6 11.7 5 10.8 12.7 10.8 11.8 12.6
15.7 12.6 14.8 7.8 7.1 11.2 8.1 6.4 5.2 12 10.2 12.7 10.2 14.7 12.2 7.1 5.7 6.7 3.9 8.5 8.3 10.8 16.7 12.6
12.5 12.5 9.8 7.2 4.1 10.6 10.1 10.1 11.9 13.6 16.3 17.6 15.5 16 15.2 11.2 14.3 14.5 8.5 12 12.7 11.3 14.5 15.1
10.4 11.5 13.4 7.5 0.6 0.3 5.5 5 4.6 8.2 9.9 9.2 12.5 10.9 9.9 8.9 7.6 9.5 8.4 10.7 13.6 13.7 13.7 16.5
16.8 17.1 15.4 9.5 6.1 10.1 9.3 5.3 11.2 16.6 15.6 12 11.5 8.6 13.8 8.7 8.6 8.6 8.7 12.8 13.2 14 13.4 14.8`
    .split(/\s+/)
    .map((y, i): [number, number] => [i + 1, Number(y)])
  it.each([[[11, 3, 0.5, 40, -0.7, -1.3, 25, -0.3, 1.4]], [[10, 3, 0.5, 44, -1.5, 0.5, 26, -0.1, 1.5]]])('ENSO (three sine waves) from %j', (start) => {
    const wave = (c: number, s: number, turn: number): number => c * Math.cos(turn) + s * Math.sin(turn)
    const turns = (b: readonly number[], x: number): [number, number, number] => [
      (2 * Math.PI * x) / 12,
      (2 * Math.PI * x) / (b[3] ?? 1),
      (2 * Math.PI * x) / (b[6] ?? 1),
    ]
    const curve: Curve = {
      value: (b, x) => {
        const [year, long, short] = turns(b, x)
        return (b[0] ?? 0) + wave(b[1] ?? 0, b[2] ?? 0, year) + wave(b[4] ?? 0, b[5] ?? 0, long) + wave(b[7] ?? 0, b[8] ?? 0, short)
      },
      slopes: (b, x) => {
        const [year, long, short] = turns(b, x)
        const byPeriod = (c: number, s: number, turn: number, period: number): number => (turn / period) * (c * Math.sin(turn) - s * Math.cos(turn))
        return [
          1,
          Math.cos(year),
          Math.sin(year),
          byPeriod(b[4] ?? 0, b[5] ?? 0, long, b[3] ?? 1),
          Math.cos(long),
          Math.sin(long),
          byPeriod(b[7] ?? 0, b[8] ?? 0, short, b[6] ?? 1),
          Math.cos(short),
          Math.sin(short),
        ]
      },
    }
    expectCertified(problemOf(pressures, curve), start, {
      b: [10.510749193, 3.0762128085, 0.53280138227, 44.3110887, -1.6231428586, 0.52554493756, 26.88761444, 0.21232288488, 1.4966870418],
      sd: [0.17488832467, 0.24310052139, 0.24354686618, 0.94408025976, 0.28078369611, 0.48073701119, 0.4161293913, 0.51460022911, 0.25434468893],
      squares: 788.53978668,
      freedom: 159,
    })
  })
})

describe('degenerate problems', () => {
  it('returns no covariance when two parameters do the same', () => {
    const fit = levenbergMarquardt(
      { residuals: ([a = 0, b = 0]) => Float64Array.of(a + b - 1, a + b - 1), jacobian: () => [Float64Array.of(1, 1), Float64Array.of(1, 1)] },
      [0, 0],
    )
    expect(fit.sumOfSquares).toBeLessThan(1e-12)
    expect(fit.inverseNormal).toBeNull()
  })
})
