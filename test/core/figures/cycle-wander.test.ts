import { describe, expect, it } from 'vitest'
import { cycleWander, countOfPattern } from '#core/figures/cycle-wander'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
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
const options = { microsteps: 4, uDeg: 0.1, chords: true }

describe('chords that add up', () => {
  it('wander: the means of the cycles show it (a walk of 160 steps of 0.1° about its mean: √(160/6)·0.1 = 0.5° rms on average)', () => {
    const sizes = Array.from({ length: 40 }, (_, seed) => cycleWander(added(seed + 1, 0.1), options)[0]?.uDeg ?? 0)
    expect(Math.sqrt(sizes.reduce((sum, u) => sum + u * u, 0) / sizes.length)).toBeGreaterThan(0.35)
    expect(Math.sqrt(sizes.reduce((sum, u) => sum + u * u, 0) / sizes.length)).toBeLessThan(0.7)
  })
  it('no wander, no part of it', () => expect(cycleWander(added(1, 0), options)).toEqual([]))
  it('what repeats alone holds the truth from above (40 walks, at most two short of it)', () => {
    const counts = Array.from({ length: 40 }, (_, seed) => countOfPattern(added(seed + 1, 0.1), { microsteps: 4, microstepDeg: 1.875 }))
    expect(counts.filter((count) => count < truth).length).toBeLessThanOrEqual(2)
    expect(counts.every((count) => count < 1.6 * truth)).toBe(true)
  })
  it('without errors it is the count itself', () => expect(countOfPattern(added(1, 0), { microsteps: 4, microstepDeg: 1.875 })).toBeCloseTo(truth, 9))
})

describe('marks about a dial off its centre, over less than a turn', () => {
  // Simulated: 1/4 of a 48-step motor, 0.6 of a turn, u = 0.05°; 0.5° once per turn is a pivot 0.7 mm off under an 80 mm pointer.
  const truthHere = effectiveCount(4, 0.36 / 2, 0, 1.875)
  const traceOf = (seed: number, onceDeg: number) => {
    const random = seededRandom(seed)
    const rows = Array.from({ length: 117 }, (_, k) => (1.875 * k + 0.6 * Math.sin((Math.PI / 4) * k) + onceDeg * Math.sin((Math.PI * k) / 96 + seed) + 0.05 * normal(random)).toFixed(4))
    const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.05 deg', 'position', ...rows].join('\n'))
    const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
    if ('kind' in result) throw new Error(result.what)
    return result
  }
  const off = Array.from({ length: 20 }, (_, seed) => traceOf(seed + 1, 0.5))
  it('are said to wander', () => expect(off.filter(({ warnings }) => warnings.join(' ').includes('the marks wander by'))).toHaveLength(20))
  it('the interval of the count reaches up to what the motor does (20 simulated, all but one)', () => expect(off.filter(({ figures: { effectiveMicrosteps: { high } } }) => (high ?? 0) >= truthHere * 0.98).length).toBeGreaterThanOrEqual(19))
  it('on its centre they do not (40 simulated; 1 % by design)', () => expect(Array.from({ length: 40 }, (_, seed) => traceOf(seed + 50, 0)).filter(({ warnings }) => warnings.join(' ').includes('wander by')).length).toBeLessThanOrEqual(3))
})
