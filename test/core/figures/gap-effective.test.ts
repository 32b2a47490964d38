import { describe, expect, it } from 'vitest'
import { type GapOptions, gapEffective } from '#core/figures/gap-effective'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const exact: GapOptions = { fullStepDeg: 15, uDeg: 0, coverageFactor: 2, expandedDeg: 0 }

describe('gap-effective count', () => {
  it('is by hand 4/√(28/4) of gaps 3 and 1, exact where marks are', () => {
    const { value, interval } = gapEffective([0, 11.25, 15, 26.25, 30], exact) as { value: number; interval: readonly number[] }
    expect(value).toBeCloseTo(4 / Math.sqrt(7), 12)
    for (const end of interval) expect(end).toBeCloseTo(value, 12)
  })

  it('is null where all rests are one', () => {
    expect(gapEffective([3, 3, 3], exact)).toBe(null)
    expect(gapEffective([3, 3.1], { ...exact, expandedDeg: 0.2 })).toBe(null)
  })

  it('is as uncertain as its scale where marks are exact: by hand 2 · 5 % of 4 to first order', () => {
    const even = Array.from({ length: 33 }, (_, k) => k * 3.75)
    const { value, interval } = gapEffective(even, { ...exact, scaleU: 0.05 }) as { value: number; interval: readonly number[] }
    expect(value).toBeCloseTo(4, 12)
    // (1 + 4 · 0.05)^(−1/2) below, 1/(1 − 2 · 0.05) above.
    expect(interval[0]).toBeCloseTo(4 / Math.sqrt(1.2), 9)
    expect(interval[1]).toBeCloseTo(4 / 0.9, 9)
  })

  it('may be as high as every rest told apart makes it', () => {
    const pairs = Array.from({ length: 20 }, (_, step) => [15 * step, 15 * step + 0.5]).flat()
    const { value, interval } = gapEffective(pairs, { ...exact, uDeg: 0.2, expandedDeg: 0.57 }) as { value: number; interval: readonly number[] }
    expect(value).toBeCloseTo(1, 1)
    expect(interval[1]).toBeGreaterThan(15 / Math.sqrt((14.5 ** 3 + 0.5 ** 3) / 15))
  })
})

// Simulated traces with independent normal marks. 400 traces leave 3·√(0.95·0.05/400) = 0.033 below 0.95; intervals that hold
// more often are wide by what the scatter of small gaps may hide, and allowed.
describe('its 95 % interval holds the truth', () => {
  const cases = [
    { name: 'even, fine marks', wave: 0, u: 0.05 },
    { name: 'order 4 of 0.4 microsteps', wave: 0.4, u: 0.1 },
    { name: 'order 4 of 0.8 microsteps, gaps down to nothing', wave: 0.8, u: 0.1 },
    { name: 'marks of a quarter of a microstep', wave: 0.4, u: 0.25 },
  ]
  for (const [i, { name, wave, u }] of cases.entries())
    it(name, () => {
      const rests = Array.from({ length: 129 }, (_, k) => 3.75 * (k + wave * Math.sin(2 * Math.PI * (k / 4) * 0.97 + 0.3)))
      const truth = (gapEffective(rests, exact) as { value: number }).value
      const random = seededRandom(300 + i)
      let held = 0
      for (let trace = 0; trace < 400; trace++) {
        const marks = rests.map((rest) => rest + 3.75 * u * normal(random))
        const told = gapEffective(marks, { ...exact, uDeg: 3.75 * u, expandedDeg: 2 * Math.SQRT2 * 3.75 * u })
        if (told !== null && told.interval[0] <= truth && truth <= told.interval[1]) held++
      }
      expect(held / 400).toBeGreaterThan(0.95 - 0.033)
    })
})
