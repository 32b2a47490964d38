import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import type { SetUp } from '#core/ingest/set-up'
import { measure } from '#core/measure'
import type { Result } from '#core/report/result-schema'

/** Measures a typed trace and fails loudly when it cannot be measured. */
const measured = (text: string, options: SetUp = {}): Result => {
  const trace = readTrace(text, options)
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  const result = measure(trace, { cause: false })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

const exact = { markUncertainty: { value: 0, unit: 'deg' } } as const
const labelled = (angles: readonly number[]): string => ['position,command', ...angles.map((angle, k) => `${angle},${k}`)].join('\n')
const microstepDeg = 3.75

// Closed forms that follow from the definitions by hand: M even steps of N commands are N_eff = M for any N.
describe('M even steps out of 16 commands, 200 full steps per turn', () => {
  const cases = [
    [1, 3000],
    [2, 2800],
    [4, 2400],
    [8, 1600],
    [16, 0],
  ] as const
  for (const [even, merged] of cases) {
    it(`${even} even: effective ${even}, gap-effective ${even}, ${merged} merged, peak-to-peak α(1/M − 1/16)`, () => {
      const held = 16 / even
      const angles = Array.from({ length: 3201 }, (_, k) => Math.floor(k / held) * held * 0.1125)
      const { figures } = measured(labelled(angles), { stepsPerRev: 200, microsteps: 16, ...exact })
      expect(figures.effectiveMicrosteps.value).toBeCloseTo(even, 9)
      expect(figures.gapEffectiveMicrosteps).toBeCloseTo(even, 9)
      expect(figures.merged).toBe(merged)
      expect(figures.reversed).toBe(0)
      expect(figures.positionErrorPeakToPeakDeg).toBeCloseTo(1.8 * (1 / even - 1 / 16), 9)
      expect(figures.distinctPerFullStep).toBeCloseTo(even, 9)
    })
  }
})

// Worked by hand from Σe², Σg³ and Σg of the pattern: N_eff = 4/√(1 + 12·0.6875), gap-effective = 4/√(28/4).
describe('a 24-step motor that makes three commands of four in one jump', () => {
  for (const pattern of [
    [0, 3, 3, 3],
    [0, 0, 0, 3],
  ]) {
    it(`rests ${pattern.join(', ')} microsteps: 1.3152 effective, 1.5119 by gaps, 48 of 96 merged, 7.5° = 50 %`, () => {
      const angles = Array.from({ length: 97 }, (_, k) => (4 * Math.floor(k / 4) + (pattern[k % 4] as number)) * microstepDeg)
      const { figures } = measured(labelled(angles), { stepsPerRev: 24, microsteps: 4, ...exact })
      expect(figures.effectiveMicrosteps.value).toBeCloseTo(1.3151918984, 9)
      expect(figures.gapEffectiveMicrosteps).toBeCloseTo(1.511857892, 9)
      expect(figures.merged).toBe(48)
      expect(figures.positionErrorPeakToPeakDeg).toBeCloseTo(7.5, 9)
      expect(figures.positionErrorPeakToPeakPercentFullStep).toBeCloseTo(50, 9)
    })
  }

  // Common practice, no source: 96 commands, 48 marks, three grouped and one alone.
  it('is recognised from 48 bare positions on the dial', () => {
    const angles = Array.from({ length: 24 }, (_, step) => [15 * step, 15 * step + 3 * microstepDeg]).flat()
    const result = measured(angles.join('\n'), { stepsPerRev: 24, microsteps: 4, ...exact })
    expect(result.assignment).toMatchObject({ decidedBy: 'fit', commands: 96, marks: 48, closed: true, ambiguous: false, jumpsUnknown: true })
    expect(result.figures.merged).toBe(48)
    expect(result.figures.effectiveMicrosteps.value).toBeCloseTo(1.3151918984, 9)
    expect(result.figures.distinctPerFullStep).toBeCloseTo(2, 9)
    expect(result.recommendation.microsteps).toBe(1)
  })

  it('is the same with tallies, which say that the jump came first', () => {
    const rows = Array.from({ length: 48 }, (_, i) => `${(4 * Math.floor(i / 2) + (i % 2 ? 3 : 0)) * microstepDeg},${i === 0 ? 0 : i % 2 ? 3 : 1}`)
    const result = measured(['position,tally', ...rows, '360,1'].join('\n'), { stepsPerRev: 24, microsteps: 4, ...exact })
    expect(result.assignment).toMatchObject({ decidedBy: 'tally', commands: 96, jumpsUnknown: false })
    expect(result.figures.merged).toBe(48)
  })
})

// Σ of two sines over whole cycles: mean square (0.3² + 0.2²)/2, closed form.
it('a smooth pattern of orders 2 and 4 counts 3.8935 effective microsteps, peak-to-peak 0.8112°', () => {
  const angles = Array.from({ length: 97 }, (_, k) => {
    const phi = (Math.PI / 2) * (k / 4)
    return k * microstepDeg + 0.3 * Math.sin(4 * phi + 0.3) + 0.2 * Math.sin(2 * phi + 1)
  })
  const { figures } = measured(labelled(angles), { stepsPerRev: 24, microsteps: 4, ...exact })
  expect(figures.effectiveMicrosteps.value).toBeCloseTo(3.8934780465, 9)
  expect(figures.merged).toBe(0)
  expect(figures.positionErrorPeakToPeakDeg).toBeCloseTo(0.8112058, 7)
  const amplitudes = Object.fromEntries(figures.harmonics.map(({ order, amplitudeDeg }) => [order, amplitudeDeg]))
  expect(amplitudes[2]).toBeCloseTo(0.2, 9)
  expect(amplitudes[4]).toBeCloseTo(0.3, 9)
  expect(amplitudes[1]).toBeCloseTo(0, 9)
})
