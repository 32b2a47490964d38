import { algebraicEllipse } from '#core/numeric/algebraic-ellipse'
import { type EllipseShape, ellipseAxes, ellipseFromAxes, ellipsePointAt, feetOn, type Foot } from '#core/numeric/ellipse'
import { type FittedEllipse, fitEllipse } from '#core/numeric/fit-ellipse'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import fc from 'fast-check'
import { createRequire } from 'node:module'
import { describe, expect, it } from 'vitest'

type Pair = readonly [number, number]

interface OpenCv {
  readonly CV_32FC2: number
  matFromArray(rows: number, columns: number, type: number, values: readonly number[]): unknown
  fitEllipse(points: unknown): { readonly center: { readonly x: number; readonly y: number }; readonly size: { readonly width: number; readonly height: number } }
}

const fitted = (points: readonly Pair[], options = {}): FittedEllipse => {
  const fit = fitEllipse(points, options)
  if (isUnmeasurable(fit)) throw new Error(fit.what)
  return fit
}

// Eight points of Gander, Golub & Strebel, BIT 34 (1994) 558, as read in a public test that names them.
const gander = [[1, 7], [2, 6], [5, 8], [7, 7], [9, 5], [3, 7], [6, 2], [8, 4]] as const

const arcOf = (ellipse: EllipseShape, [from, to]: Pair, count: number): Pair[] =>
  Array.from({ length: count }, (_, i) => ellipsePointAt(ellipse, from + ((to - from) * i) / (count - 1)))

const round: EllipseShape = ellipseFromAxes([640, 480], { major: 420, minor: 390, tilt: 0.7 })

describe('geometric ellipse fit', () => {
  it('gives the published ellipse: centre (2.6996, 3.8160), axes 6.5187 and 3.0319, tilt 0.3596, √Σd² 1.1719 (from memory of the paper; recomputed outside in double precision)', () => {
    const fit = fitted(gander)
    expect(fit.centre[0]).toBeCloseTo(2.6996, 4)
    expect(fit.centre[1]).toBeCloseTo(3.816, 4)
    expect(fit.major).toBeCloseTo(6.5187, 4)
    expect(fit.minor).toBeCloseTo(3.0319, 4)
    expect(fit.tilt).toBeCloseTo(0.3596, 4)
    expect(fit.residualNorm).toBeCloseTo(1.1718811970, 9)
  })

  it('gives the standard errors of that centre that brute-force differences in axes and tilt give (Python with scipy 1.17): 7.3174 and 3.6249', () => {
    const { covariance } = fitted(gander)
    expect(Math.sqrt(covariance[0]?.[0] ?? 0)).toBeCloseTo(7.3174, 3)
    expect(Math.sqrt(covariance[1]?.[1] ?? 0)).toBeCloseTo(3.6249, 3)
  })

  it('finds the ellipse that exact points lie on, as OpenCV’s fitEllipse does (single precision there)', () => {
    const points = arcOf(round, [0.2, 4.4], 40)
    const fit = fitted(points)
    expect(fit.major).toBeCloseTo(420, 6)
    expect(fit.minor).toBeCloseTo(390, 6)
    expect(fit.tilt).toBeCloseTo(0.7, 8)
    const { cv } = createRequire(import.meta.url)('opencv-wasm') as { readonly cv: OpenCv }
    const theirs = cv.fitEllipse(cv.matFromArray(points.length, 1, cv.CV_32FC2, points.flat()))
    expect(Math.abs(theirs.center.x - fit.centre[0])).toBeLessThan(0.01)
    expect(Math.abs(theirs.size.height / 2 - fit.major)).toBeLessThan(0.02)
    expect(Math.abs(theirs.size.width / 2 - fit.minor)).toBeLessThan(0.02)
  })

  it('turns, moves and grows with its points', () => {
    fc.assert(fc.property(fc.double({ min: -3, max: 3, noNaN: true }), fc.double({ min: 0.1, max: 50, noNaN: true }), (turn, size) => {
      const base = arcOf(ellipseFromAxes([0, 0], { major: 5, minor: 3, tilt: 0.4 }), [0, 5], 12).map(([x, y], i): Pair => [x + 0.02 * Math.sin(7 * i), y + 0.02 * Math.cos(5 * i)])
      const [c, s] = [Math.cos(turn), Math.sin(turn)]
      const moved = base.map(([x, y]): Pair => [size * (c * x - s * y) + 7, size * (s * x + c * y) - 3])
      const [before, after] = [fitted(base), fitted(moved)]
      expect(after.major / size / before.major).toBeCloseTo(1, 5)
      expect(after.minor / size / before.minor).toBeCloseTo(1, 5)
      expect(after.residualNorm / size).toBeCloseTo(before.residualNorm, 8)
    }), { numRuns: 40 })
  })

  it('has standard errors that its own scatter over repeats bears out (simulated, 400 repeats: 1 ± 0.106 is three spreads of such a ratio)', () => {
    const random = seededRandom(5)
    const offs = Array.from({ length: 400 }, () => {
      const fit = fitted(arcOf(round, [0, 3.6], 60).map(([x, y]): Pair => [x + 0.3 * normal(random), y + 0.3 * normal(random)]))
      return [0, 1, 2].map((k) => ((fit.shape[k] as number) - (round.shape[k] as number)) / Math.sqrt(fit.covariance[k + 2]?.[k + 2] ?? 0))
    })
    for (const k of [0, 1, 2]) expect(Math.abs(Math.sqrt(offs.reduce((sum, o) => sum + (o[k] as number) ** 2, 0) / offs.length) - 1)).toBeLessThan(0.106)
  })

  it('is not pulled by points far off when asked to be robust', () => {
    const clean = arcOf(round, [0, 5], 60)
    const spoilt = clean.map(([x, y], i): Pair => (i % 6 === 0 && i < 35 ? [x + 25, y - 14] : [x + 0.1 * Math.sin(3 * i), y + 0.1 * Math.cos(2 * i)]))
    expect(Math.abs(fitted(spoilt).major - 420)).toBeGreaterThan(1)
    expect(Math.abs(fitted(spoilt, { robust: true }).major - 420)).toBeLessThan(0.1)
  })

  it('is well defined for a circle, where the tilt is not', () => {
    const circle = arcOf(ellipseFromAxes([3, -2], { major: 5, minor: 5, tilt: 0 }), [0, 6], 30).map(([x, y], i): Pair => [x + 1e-3 * Math.sin(9 * i), y])
    const fit = fitted(circle)
    expect(fit.shape[0]).toBeCloseTo(5, 2)
    expect(Math.sqrt(fit.covariance[3]?.[3] ?? 1)).toBeLessThan(1e-3)
  })

  it('refuses too few points, a line, a hyperbola’s branch and a parabola', () => {
    const line = Array.from({ length: 9 }, (_, i): Pair => [i, 2 * i + 1])
    const branch = Array.from({ length: 15 }, (_, i): Pair => [Math.cosh((i - 7) / 3), 2 * Math.sinh((i - 7) / 3)])
    const parabola = Array.from({ length: 15 }, (_, i): Pair => [i - 7, (i - 7) ** 2 / 20])
    for (const points of [gander.slice(0, 4), line, branch, parabola]) expect(isUnmeasurable(fitEllipse(points))).toBe(true)
  })
})

describe('algebraic ellipse fit', () => {
  it('gives the ellipse of the generalised eigenproblem (Fitzgibbon, Pilu & Fisher 1999), solved outside with scipy 1.17 on the same eight points', () => {
    const ellipse = algebraicEllipse(gander)
    if (ellipse === null) throw new Error('no ellipse')
    const { major, minor } = ellipseAxes(ellipse)
    expect(ellipse.centre[0]).toBeCloseTo(5.06387772, 7)
    expect(ellipse.centre[1]).toBeCloseTo(5.0697527, 7)
    expect(major).toBeCloseTo(3.7756637147, 8)
    expect(minor).toBeCloseTo(2.6423339989, 8)
  })
})

describe('foot of the perpendicular on an ellipse', () => {
  it('lies on the ellipse with the point along its normal', () => {
    fc.assert(fc.property(fc.double({ min: -9, max: 9, noNaN: true }), fc.double({ min: -9, max: 9, noNaN: true }), (x, y) => {
      const ellipse = ellipseFromAxes([1, 2], { major: 5, minor: 2, tilt: -0.6 })
      const { distance, unit, normal: n } = feetOn(ellipse, [[x, y]])[0] as Foot
      const [fx, fy] = ellipsePointAt(ellipse, Math.atan2(unit[1], unit[0]))
      expect(Math.hypot(fx + distance * n[0] - x, fy + distance * n[1] - y)).toBeLessThan(1e-9)
      const near = Array.from({ length: 720 }, (_, i) => ellipsePointAt(ellipse, (i * Math.PI) / 360)).map(([px, py]) => Math.hypot(px - x, py - y))
      expect(Math.abs(distance)).toBeLessThan(Math.min(...near) + 1e-9)
    }))
  })
})
