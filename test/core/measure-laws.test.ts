import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

const measured = (text: string): Result => {
  const trace = readTrace(text)
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  const result = measure(trace, { cause: false })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

/** 24 steps, 1/4, half a turn and a little noise; as labelled angles. */
const restsOf = (seed: number): number[] => {
  const random = seededRandom(seed)
  const [second, fourth] = [0.5 * random(), 0.8 * random()]
  return Array.from({ length: 53 }, (_, k) => 3.75 * k + second * Math.sin((Math.PI / 4) * k) + fourth * Math.sin((Math.PI / 2) * k + 1) + 0.2 * (random() - 0.5))
}

interface Writing {
  readonly unit?: readonly [name: string, size: number]
  readonly separator?: string
  readonly place?: (angle: number) => number
  readonly order?: (rows: readonly string[]) => readonly string[]
}

const text = (rests: readonly number[], { unit = ['deg', 1], separator = ',', place = (angle) => angle, order = (rows) => rows }: Writing = {}): string => {
  const rows = rests.map((angle, k) => `${(place(angle) / unit[1]).toFixed(9)}${separator}${k}`)
  return ['# steps-per-rev: 24', '# microsteps: 4', `# position-unit: ${unit[0]}`, '# mark-uncertainty: 0.1 deg', `position${separator}command`, ...order(rows)].join('\n')
}

/** The figures that must not care: their numbers apart from the rest. */
const essence = ({ figures, modes, uncertainty }: Result): { readonly numbers: readonly number[]; readonly rest: string } => {
  const numbers: number[] = []
  const rest = JSON.stringify({ figures: { ...figures, harmonics: figures.harmonics.map(({ amplitudeDeg, highDeg }) => [amplitudeDeg, highDeg]) }, verdicts: modes.map(({ verdict, worstIncrement }) => [verdict, worstIncrement]), markDeg: uncertainty.markDeg }, (_, value: unknown) => (typeof value === 'number' ? numbers.push(value) : value))
  return { numbers, rest }
}

const seeds = fc.integer({ min: 1, max: 1e6 })
const runs = { numRuns: 6, seed: 20 }
const same = (seed: number, writing: Writing): void => {
  const [other, usual] = [writing, {}].map((each) => essence(measured(text(restsOf(seed), each))))
  expect(other?.rest).toBe(usual?.rest)
  // Angles are written to 1e-9 of their unit, 6e-8 deg at most.
  other?.numbers.forEach((number, i) => expect(Math.abs(number - (usual?.numbers[i] ?? Number.NaN)), `number ${i}`).toBeLessThan(5e-7))
}

describe('figures do not change with', () => {
  it('the place of zero on the paper (dial values wrapped to 0 … 360 too)', () => {
    fc.assert(fc.property(seeds, fc.double({ min: 0, max: 360, noNaN: true }), (seed, turn) => same(seed, { place: (angle) => (angle + turn) % 360 })), runs)
  })
  it('the direction of travel', () => {
    fc.assert(fc.property(seeds, (seed) => same(seed, { place: (angle) => -angle })), runs)
  })
  it('the order of labelled rows', () => {
    fc.assert(fc.property(seeds, (seed) => {
      const random = seededRandom(seed)
      same(seed, { order: (rows) => rows.map((row) => [random(), row] as const).sort(([a], [b]) => a - b).map(([, row]) => row) })
    }), runs)
  })
  it('the unit', () => {
    const units = fc.constantFrom(['arcmin', 1 / 60] as const, ['rad', 180 / Math.PI] as const)
    fc.assert(fc.property(seeds, units, (seed, unit) => same(seed, { unit })), runs)
  })
  it('the separator', () => {
    fc.assert(fc.property(seeds, fc.constantFrom(';', '\t'), (seed, separator) => same(seed, { separator })), runs)
  })
})

// Exact, from the definition: N commands that make M even steps per full step count M.
it('M even steps out of N count M effective microsteps, for any divisor M of N and any number of full steps', () => {
  const motors = fc.constantFrom([4, 2], [6, 3], [8, 4], [12, 4], [12, 6], [10, 5]).chain(([microsteps, levels]) => fc.tuple(fc.constant(microsteps ?? 1), fc.constant(levels ?? 1), fc.integer({ min: 8, max: 20 })))
  fc.assert(
    fc.property(motors, ([microsteps, levels, fullSteps]) => {
      const held = microsteps / levels
      const rows = Array.from({ length: fullSteps * microsteps + 1 }, (_, k) => `${(Math.floor(k / held) * held * 1.8) / microsteps},${k}`)
      const { figures } = measured(['# steps-per-rev: 200', `# microsteps: ${microsteps}`, '# mark-uncertainty: 0', 'position,command', ...rows].join('\n'))
      expect(figures.effectiveMicrosteps.value).toBeCloseTo(levels, 8)
    }),
    { numRuns: 8, seed: 21 },
  )
})
