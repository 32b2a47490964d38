import { describe, expect, it } from 'vitest'
import { type ModeInput, modesOf, usualLimits } from '#core/decide/mode-increments'
import { judgeMode } from '#core/decide/mode-verdict'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { coverageFactorFor } from '#core/rig/budget'

const fullStepDeg = 15
const microstepDeg = 3.75
const inputOf = (rests: readonly number[], uDeg: number, more: Partial<ModeInput> = {}): ModeInput => ({
  readings: [rests],
  uDeg: rests.map(() => uDeg),
  coverageFactor: 2,
  fullStepDeg,
  microsteps: 4,
  fullStepPlace: 0,
  limits: usualLimits,
  ...more,
})
const even = Array.from({ length: 97 }, (_, k) => k * microstepDeg)
const withIncrement = (size: number): number[] => even.map((rest, k) => rest + (k >= 50 ? (size - 1) * microstepDeg : 0))

describe('judgeMode, zones by hand', () => {
  // U of an increment is 2·√2·u; u = 0.1 microstep makes it 0.283.
  const u = 0.1 * microstepDeg
  it('an increment of 0.79 holds (0.79 − 0.283 > 0.5), 0.7 and 0.4 are not proven, 0.2 fails', () => {
    expect([0.79, 0.7, 0.4, 0.2].map((size) => judgeMode(inputOf(withIncrement(size), u), 4).verdict)).toEqual(['holds', 'not proven', 'not proven', 'fails'])
  })
  it('other limits move the zones', () => {
    expect(judgeMode(inputOf(withIncrement(0.7), u, { limits: { low: 0.4, high: 1.6 } }), 4).verdict).toBe('holds')
  })
  it('coarser modes come from every second and fourth rest: 0.8 ± 0.07, 0.6 ± 0.14, 0.2 ± 0.28', () => {
    expect([1, 2, 4].map((mode) => judgeMode(inputOf(withIncrement(0.2), u), mode).verdict)).toEqual(['holds', 'not proven', 'fails'])
  })
  it('a mode the marks could not show is never judged', () => {
    const verdict = judgeMode(inputOf(withIncrement(0), 2.5), 4)
    expect(verdict.verdict).toBe('not proven')
    expect(verdict.toSettle).toMatchObject({ expected: 'shows', passes: 2 })
  })
})

describe('sensitivity and further measurement, by the formulas', () => {
  const u = 0.1 * microstepDeg
  const expanded = 2 * Math.SQRT2 * 0.1
  const verdict = judgeMode(inputOf(withIncrement(0.7), u), 4)
  it('limits 1 ± h: holds from |g − 1| + U, fails below |g − 1| − U', () => {
    expect(verdict.sensitivity?.holdsFromHalfWidth).toBeCloseTo(0.3 + expanded, 9)
    expect(verdict.sensitivity?.failsBelowHalfWidth).toBeCloseTo(0.3 - expanded, 9)
  })
  it('u has to shrink to (0.7 − 0.5)/U = 1/√2 of itself: two runs, or a pointer √2 times as long', () => {
    const factor = 0.2 / expanded
    expect(verdict.toSettle?.expected).toBe('holds')
    expect(verdict.toSettle?.uDeg).toBeCloseTo(u * factor, 9)
    expect(verdict.toSettle?.passes).toBe(2)
    expect(verdict.toSettle?.lengthFactor).toBeCloseTo(Math.SQRT2, 9)
  })
  it('the verdict does turn at that u, and not before', () => {
    const needed = verdict.toSettle?.uDeg ?? 0
    expect(judgeMode(inputOf(withIncrement(0.7), needed * 0.999), 4).verdict).toBe('holds')
    expect(judgeMode(inputOf(withIncrement(0.7), needed * 1.001), 4).verdict).toBe('not proven')
  })
  it('an increment outside the limits heads for a failure, and it comes at that u', () => {
    const open = judgeMode(inputOf(withIncrement(0.4), u), 4)
    expect(open.toSettle?.expected).toBe('fails')
    expect(judgeMode(inputOf(withIncrement(0.4), (open.toSettle?.uDeg ?? 0) * 0.999), 4).verdict).toBe('fails')
  })
  it('four runs already averaged count as four: eight are needed', () => {
    expect(judgeMode(inputOf(withIncrement(0.7), u), 4, 4).toSettle?.passes).toBe(8)
  })
})

const share = (trials: number, judge: () => boolean): number => Array.from({ length: trials }, judge).filter(Boolean).length / trials
const noisy = (rests: readonly number[], u: number, random: () => number): number[] => rests.map((rest) => rest + u * normal(random))

// Simulated marks. The worst case for a false "holds" is a motor with one increment just outside a limit and all others even.
describe('wrong verdicts are rare', () => {
  it('a motor that just fails is said to hold in at most 2.5 % of traces (4,000 traces, three deviations of 0.25 %)', () => {
    const random = seededRandom(3)
    const failing = withIncrement(0.499)
    const u = 0.05 * microstepDeg
    expect(share(4000, () => judgeMode(inputOf(noisy(failing, u, random), u), 4).verdict === 'holds')).toBeLessThan(0.025 + 0.0075)
  })
  it('also when u was estimated with ten degrees of freedom: the factor is then Student’s', () => {
    const random = seededRandom(4)
    const failing = withIncrement(0.499)
    const u = 0.05 * microstepDeg
    const estimated = (): number => u * Math.sqrt(Array.from({ length: 10 }, () => normal(random) ** 2).reduce((sum, v) => sum + v, 0) / 10)
    const coverageFactor = coverageFactorFor(10)
    expect(share(4000, () => judgeMode(inputOf(noisy(failing, u, random), estimated(), { coverageFactor }), 4).verdict === 'holds')).toBeLessThan(0.025 + 0.0075)
  })
  it('an even motor with 3,200 commands and coarse marks is said to fail in at most 2.5 % of traces (200 traces, three deviations of 1.1 %)', () => {
    const random = seededRandom(5)
    const rests = Array.from({ length: 3201 }, (_, k) => k * microstepDeg)
    const u = 0.16 * microstepDeg
    expect(share(200, () => judgeMode(inputOf(noisy(rests, u, random), u), 4).verdict === 'fails')).toBeLessThan(0.025 + 0.033)
  })
})

it('modesOf: divisors of N, coarse to fine', () => {
  expect(modesOf(12)).toEqual([1, 2, 3, 4, 6, 12])
})
