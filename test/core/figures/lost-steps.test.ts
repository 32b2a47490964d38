import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import type { Result } from '#core/report/result-schema'

// Simulated: one turn of a 48-step motor at 1/4, order 2 of 0.3 microsteps, u = 0.05 microstep, all commands numbered.
const microstepDeg = 1.875
const measured = (off: (k: number) => number, seed: number, motor = '# steps-per-rev: 48\n# microsteps: 4'): Result => {
  const random = seededRandom(seed)
  const rows = Array.from({ length: 193 }, (_, k) => `${(microstepDeg * (k + 0.3 * Math.sin((Math.PI / 4) * (k + off(k))) + off(k) + 0.05 * normal(random))).toFixed(4)},${k}`)
  const trace = readTrace([motor, '# mark-uncertainty: 0.094 deg', 'position,command', ...rows].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  return result
}

describe('a command lost on its way to the motor', () => {
  const result = measured((k) => (k >= 100 ? -1 : 0), 1)
  it('is said, with its place', () => expect(result.warnings.join(' ')).toMatch(/From about command (9[89]|10[0-2]) on all marks stand one microstep behind their commands/))
  it('is no fault of the dial: nothing is taken off, and the count is that of the errors as they are (by hand: 0.3²/2 + (99/192)(93/192))', () => {
    expect(result.rigFaults.removed).toEqual([])
    const truth = effectiveCount(4, 0.09 / 2 + (99 / 192) * (93 / 192), 0, 1)
    expect(Math.abs(result.figures.effectiveMicrosteps.value / truth - 1)).toBeLessThan(0.02)
  })
  it('one made twice stands ahead', () => expect(measured((k) => (k >= 60 ? 1 : 0), 2).warnings.join(' ')).toMatch(/one microstep ahead of their commands: one was made twice/))
  it('a dial off its centre by as much loses none (20 simulated)', () => {
    const said = Array.from({ length: 20 }, (_, seed) => measured((k) => 0.5 * Math.sin((2 * Math.PI * k) / 192 + seed), 10 + seed).warnings.join(' '))
    expect(said.filter((words) => words.includes('one microstep'))).toEqual([])
  })
  it('is not said of marks that fall off by two full steps and more: the warning that names that stands alone', () => {
    for (const [at, by] of [[3, -3], [3, -5], [185, 3]] as const) {
      const words = measured((k) => (k >= at ? by : 0), 3, '# steps-per-rev: 96\n# microsteps: 2').warnings.join(' ')
      expect(words).toMatch(/a mark left out, a wrong number or a paper that slipped/)
      expect(words).not.toContain('one microstep')
    }
  })
})
