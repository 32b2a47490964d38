import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: three passes of 40 commands at 1/4 of a 48-step motor, u = 0.05°, nothing numbered but the pass; one row typed twice.
const warningsOf = (change: (rows: string[]) => string[]): string => {
  const random = seededRandom(1)
  const passes = [1, 2, 3].map((pass) => Array.from({ length: 41 }, (_, k) => `${(1.875 * k + 0.05 * normal(random)).toFixed(3)},${pass}`))
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.05 deg', 'position,pass', ...passes.flatMap((rows, p) => (p === 0 ? change(rows) : rows))].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  expect(result.assignment.commands).toBe(40)
  return result.warnings.join(' ')
}

describe('a pass with a mark more or less than the others', () => {
  it('is left out, and said', () => {
    expect(warningsOf((rows) => [...rows.slice(0, 10), ...rows.slice(9)])).toMatch(/Pass 1 has 42 marks where most have 41/)
  })
  it('nothing is said where all agree', () => expect(warningsOf((rows) => rows)).not.toMatch(/where most have/))
})
