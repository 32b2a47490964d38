import { describe, expect, it } from 'vitest'
import { chordWander, countOfPattern } from '#core/figures/chord-wander'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: 1/4 of a 48-step motor, ten cycles, order 4 of 0.6°; each chord measured to 0.1° and added up.
const pattern = (k: number): number => 0.6 * Math.sin((Math.PI / 2) * k + 0.4) + 0.3 * Math.sin((Math.PI / 8) * k)
const added = (seed: number, u: number): number[] => {
  const random = seededRandom(seed)
  const sums = [0]
  for (let k = 1; k <= 160; k++) sums.push((sums[k - 1] ?? 0) + u * normal(random))
  return sums.map((sum, k) => sum + pattern(k))
}
const truth = effectiveCount(4, (0.36 + 0.09) / 2, 0, 1.875)
const options = { microsteps: 4, uDeg: 0.1 }

describe('chords that add up', () => {
  it('wander: the means of the cycles show it (a walk of 160 steps of 0.1° about its mean: √(160/6)·0.1 = 0.5° rms on average)', () => {
    const sizes = Array.from({ length: 40 }, (_, seed) => chordWander(added(seed + 1, 0.1), options)[0]?.uDeg ?? 0)
    expect(Math.sqrt(sizes.reduce((sum, u) => sum + u * u, 0) / sizes.length)).toBeGreaterThan(0.35)
    expect(Math.sqrt(sizes.reduce((sum, u) => sum + u * u, 0) / sizes.length)).toBeLessThan(0.7)
  })
  it('no wander, no part of it', () => expect(chordWander(added(1, 0), options)).toEqual([]))
  it('what repeats alone holds the truth from above (40 walks, at most two short of it)', () => {
    const counts = Array.from({ length: 40 }, (_, seed) => countOfPattern(added(seed + 1, 0.1), { microsteps: 4, microstepDeg: 1.875 }))
    expect(counts.filter((count) => count < truth).length).toBeLessThanOrEqual(2)
    expect(counts.every((count) => count < 1.6 * truth)).toBe(true)
  })
  it('without errors it is the count itself', () => expect(countOfPattern(added(1, 0), { microsteps: 4, microstepDeg: 1.875 })).toBeCloseTo(truth, 9))
})
