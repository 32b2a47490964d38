import { describe, expect, it } from 'vitest'
import { impossibleMarks, strayMarks } from '#core/figures/stray-marks'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated errors: 1/8, five cycles, order 4 of 0.3°, u = 0.05°.
const noisy = (seed: number, length = 161): number[] => {
  const random = seededRandom(seed)
  return Array.from({ length }, (_, k) => 0.3 * Math.sin((Math.PI / 4) * k + 0.3) + 0.05 * normal(random))
}
const options = { microsteps: 8, uDeg: 0.05 }
const changed = (errors: readonly number[], from: number, to: number, by: number): number[] => errors.map((error, k) => (k >= from && k < to ? error + by : error))

describe('marks that stand alone', () => {
  it('a slip of the hand of 9 u, with its place and size', () => {
    const [stray, ...others] = strayMarks(changed(noisy(1), 70, 71, -0.45), options)
    expect(stray?.place).toBe(70)
    // one mark, its neighbours' and its phase's medians: 0.05°·1.25, three times
    expect(Math.abs((stray?.offDeg ?? 0) + 0.45)).toBeLessThan(0.19)
    expect(others).toEqual([])
  })
  it('a tooth that takes its whole full step along is none', () => {
    expect(strayMarks(changed(noisy(2), 64, 72, 0.45), options)).toEqual([])
  })
  it('a microstep that sticks in every cycle is the pattern', () => {
    expect(strayMarks(noisy(3).map((error, k) => (k % 32 === 5 ? error - 0.6 : error)), options)).toEqual([])
  })
  it('marks as good as stated: hardly ever one (2 % of traces by design; 200 simulated, up to 12 with a chance of 0.1 %)', () => {
    const found = Array.from({ length: 200 }, (_, seed) => strayMarks(noisy(seed + 10), options).length > 0)
    expect(found.filter(Boolean).length).toBeLessThanOrEqual(12)
  })
  it('the same where nobody stated it', () => {
    const found = Array.from({ length: 200 }, (_, seed) => strayMarks(noisy(seed + 10), { ...options, uDeg: 0 }).length > 0)
    expect(found.filter(Boolean).length).toBeLessThanOrEqual(12)
  })
  it('what no motor in step could do shows in any trace: more than two full steps off and back', () => {
    const motor = { microsteps: 8, fullStepDeg: 1.8 }
    const short = noisy(4, 34)
    expect(impossibleMarks(changed(short, 9, 10, 4.5), motor).map(({ place }) => place)).toEqual([9])
    expect(impossibleMarks(changed(short, 9, 10, 2.5), motor)).toEqual([])
    expect(impossibleMarks(changed(short, 9, 34, 7.2), motor)).toEqual([])
  })
  it('and where commands share that mark, at the first of them', () => {
    // Four commands on each mark, one full step apart; the fourth mark 130° off.
    const errors = Array.from({ length: 49 }, (_, k) => 7.5 * Math.ceil(k / 4) + (Math.ceil(k / 4) === 3 ? 130 : 0) - 1.875 * k)
    expect(impossibleMarks(errors, { microsteps: 4, fullStepDeg: 7.5 }).map(({ place }) => place)).toEqual([9])
  })
  it('less than three cycles say nothing else', () => {
    expect(strayMarks(changed(noisy(4, 80), 40, 41, 2), options)).toEqual([])
  })
})
