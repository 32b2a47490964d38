import { describe, expect, it } from 'vitest'
import { furtherFor } from '#core/decide/further-measurement'
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

const share = (trials: number, judge: () => boolean): number => Array.from({ length: trials }, judge).filter(Boolean).length / trials
const noisy = (rests: readonly number[], u: number, random: () => number): number[] => rests.map((rest) => rest + u * normal(random))

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
  it('the verdict turns where u is that many times as large, and not before', () => {
    const factor = verdict.sensitivity?.uFactorToHold ?? 0
    expect(factor).toBeCloseTo(0.2 / expanded, 9)
    expect(judgeMode(inputOf(withIncrement(0.7), u * factor * 0.999), 4).verdict).toBe('holds')
    expect(judgeMode(inputOf(withIncrement(0.7), u * factor * 1.001), 4).verdict).toBe('not proven')
    const toFail = judgeMode(inputOf(withIncrement(0.4), u), 4).sensitivity?.uFactorToFail ?? 0
    expect(judgeMode(inputOf(withIncrement(0.4), u * toFail * 0.999), 4).verdict).toBe('fails')
  })
})

/** 24 steps, 1/4: a repeating pattern whose smallest increment is 1 − depth of nominal (e = a·sin 4φ, closed form). */
const patterned = (depth: number): number[] => even.map((rest, k) => rest + (depth / 2) * microstepDeg * (-1) ** (Math.floor(k / 2) % 2) * (k % 2))
const smallest = (rests: readonly number[]): number => Math.min(...rests.slice(1).map((rest, i) => (rest - (rests[i] ?? 0)) / microstepDeg))

// Simulated marks: the plan is followed and the outcome counted.
describe('a further measurement that is planned does settle the verdict', () => {
  const cases = [
    [0.6, 'holds'],
    [1.2, 'fails'],
  ] as const
  for (const [depth, expected] of cases)
    it(`smallest increment ${1 - depth / 2}: ${expected} in at least 85 % of 200 repeats with the u that was asked for`, () => {
      const random = seededRandom(6)
      const rests = patterned(depth)
      expect(smallest(rests)).toBeCloseTo(1 - depth / 2, 9)
      const u = 0.17 * microstepDeg
      const plans = Array.from({ length: 60 }, () => judgeMode(inputOf(noisy(rests, u, random), u), 4)).flatMap(({ toSettle }) => (toSettle ? [toSettle] : []))
      expect(plans.length).toBeGreaterThan(15)
      expect(plans.filter((plan) => plan.expected === expected).length / plans.length).toBeGreaterThan(0.75)
      const needed = plans.map(({ uDeg }) => uDeg).toSorted((a, b) => a - b)[plans.length >> 1] ?? 0
      expect(share(200, () => judgeMode(inputOf(noisy(rests, needed, random), needed), 4).verdict === expected)).toBeGreaterThan(0.85)
    })
  it('runs go with the square of u, length with u; runs already averaged count', () => {
    const further = furtherFor(1 / 2, 'holds', { uDeg: 0.2, passes: 3, coverageFactor: 2 })
    expect(further).toMatchObject({ uDeg: 0.1, passes: 12, lengthFactor: 2 })
  })
})

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
  it('a motor whose smallest increments stay within the limits at 0.55 is said to fail in at most 5 % of traces (600 traces, three deviations of 0.9 %)', () => {
    const random = seededRandom(7)
    for (const coarse of [0.1, 0.17]) {
      const u = coarse * microstepDeg
      expect(share(600, () => judgeMode(inputOf(noisy(patterned(0.9), u, random), u), 4).verdict === 'fails')).toBeLessThan(0.05 + 0.027)
    }
  })
  it('a motor that merges every other command is said to fail in nearly every trace, up to marks of 0.15 microsteps', () => {
    const random = seededRandom(8)
    for (const coarse of [0.05, 0.1, 0.15]) {
      const u = coarse * microstepDeg
      expect(share(200, () => judgeMode(inputOf(noisy(even.map((_, k) => Math.floor(k / 2) * 2 * microstepDeg), u, random), u), 4).verdict === 'fails')).toBeGreaterThan(0.95)
    }
  })
  it('one single merged command among 96 is enough with marks of a tenth of a microstep', () => {
    expect(judgeMode(inputOf(withIncrement(0), 0.1 * microstepDeg), 4).verdict).toBe('fails')
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

describe('readings of the jumps that disagree', () => {
  const fullStepDeg = 7.5
  const even = Array.from({ length: 33 }, (_, k) => 1.875 * k)
  const merged = even.map((angle, k) => (k === 17 ? angle - 1.875 : angle))
  const verdict = judgeMode({ readings: [merged, even], uDeg: even.map(() => 0.05), coverageFactor: 2, fullStepDeg, microsteps: 4, fullStepPlace: 0, limits: { low: 0.5, high: 1.5 } }, 4)
  it('leave it open, with the worst increment of each between its ends and both in the reason', () => {
    expect(verdict.verdict).toBe('not proven')
    expect(verdict.worstIncrement?.[0]).toBeLessThan(0.1)
    expect(verdict.worstIncrement?.[1]).toBeGreaterThan(1)
    expect(verdict.why).toMatch(/is (0|2)\.0+ ± .* outside 0.5 to 1.5; or, with jumps at other commands of their marks, the worst of 32 increments is 1\.0+ ± .* inside/)
  })
})
