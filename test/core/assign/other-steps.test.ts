import { describe, expect, it } from 'vitest'
import { lonePair } from '#core/assign/lone-pair'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

const measured = (positions: readonly number[], steps: number, microsteps: number, u: number): Result => {
  const trace = readTrace([`# steps-per-rev: ${steps}`, `# microsteps: ${microsteps}`, `# mark-uncertainty: ${u} deg`, ...positions.map((p) => p.toFixed(4))].join('\n'))
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  const result = measure(trace, { cause: false })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}
// Simulated marks of a 200-step motor at 1/4, one each: δ = 0.45°, an order 1 of 0.15°, half a turn.
const random = seededRandom(8)
const pump = Array.from({ length: 401 }, (_, k) => 0.45 * k + 0.15 * Math.sin((Math.PI / 8) * k) + 0.02 * normal(random))

describe('steps per turn that the marks contradict', () => {
  it('a 200-step motor called 400: its pattern repeats at half the rate of one; no mode is judged, and 200 is named', () => {
    const result = measured(pump, 400, 4, 0.02)
    expect(result.warnings.join(' ')).toMatch(/one command each on a motor of 200 steps per turn they do/)
    expect(result.modes.map(({ verdict }) => verdict)).toEqual(['not proven', 'not proven', 'not proven'])
  })
  it('the right number passes in silence', () => {
    expect(measured(pump, 200, 4, 0.02).warnings.join(' ')).not.toMatch(/steps per turn/)
  })
  it('pairs of microsteps that merge evenly look like a motor of half as many steps: both are said, and the verdict stands', () => {
    const result = measured(Array.from({ length: 81 }, (_, m) => 0.9 * m + 0.01 * normal(random)), 200, 4, 0.01)
    expect(result.warnings.join(' ')).toMatch(/Every mark holds 2 commands.*motor of 100 steps per turn.*would look the same/)
    expect(result.modes.at(-1)?.verdict).toBe('fails')
  })
  it('three commands in one jump, then one, in every full step, is a pattern and no wrong number of steps', () => {
    const result = measured(Array.from({ length: 24 }, (_, i) => [15 * i, 15 * i + 11.25]).flat(), 24, 4, 0.3)
    expect(result.warnings.join(' ')).not.toMatch(/steps-per-rev/)
    expect(result.modes.map(({ verdict }) => verdict)).toEqual(['holds', 'not proven', 'fails']) // half steps: 0.5 and 1.5 of nominal, on the limits
  })
  it('what does not fit at all is refused with the number that would', () => {
    const trace = readTrace(['# steps-per-rev: 100', '# microsteps: 4', ...pump.map((p) => p.toFixed(4))].join('\n'))
    if (trace.kind !== 'trace') throw new Error('unread')
    expect(measure(trace, { cause: false })).toMatchObject({ kind: 'unmeasurable', remedy: expect.stringContaining('one command each would be a motor of 200 steps per turn') })
  })
})

describe('two marks at one place', () => {
  it('with all later ones a microstep behind: perhaps one mark drawn twice', () => {
    expect(lonePair([0, 1, 2, 3, 4, 5, 5.1, 6, 7, 8, 9, 10], 4)).toBe(6)
  })
  it('a command that moved nothing and was made up for is one', () => {
    expect(lonePair([0, 1, 2, 3, 4, 5, 5.1, 7, 8, 9, 10, 11], 4)).toBeNull()
  })
  it('several pairs are how the motor steps', () => {
    expect(lonePair([0, 0, 1, 2, 2.1, 3, 4, 4, 5, 6, 6, 7], 4)).toBeNull()
  })
  it('in a short trace no verdict hangs on which it is', () => {
    const twice = [...Array.from({ length: 9 }, (_, k) => 1.875 * k), 15.05, ...Array.from({ length: 8 }, (_, k) => 1.875 * (k + 9))]
    const result = measured(twice, 48, 4, 0.05)
    expect(result.modes.at(-1)?.verdict).toBe('not proven')
    expect(result.warnings.join(' ')).toMatch(/Marks 9 \(line 12\) and 10 \(line 13\) stand at one place/)
  })
})
