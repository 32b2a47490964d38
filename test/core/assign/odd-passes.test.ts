import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: three passes of 10 commands at 1/2 of a 48-step motor, u = 0.05°, nothing numbered but the pass; one row typed twice.
const warningsOf = (change: (rows: string[]) => string[]): string => {
  const random = seededRandom(1)
  const passes = [1, 2, 3].map((pass) => Array.from({ length: 11 }, (_, k) => `${(3.75 * k + 0.05 * normal(random)).toFixed(3)},${pass}`))
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 2', '# mark-uncertainty: 0.05 deg', 'position,pass', ...passes.flatMap((rows, p) => (p === 0 ? change(rows) : rows))].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  expect(result.assignment.commands).toBe(10)
  return result.warnings.join(' ')
}

describe('a pass with a mark more or less than the others', () => {
  it('is left out, and said', () => {
    expect(warningsOf((rows) => [...rows.slice(0, 6), ...rows.slice(5)])).toMatch(/Pass 1 has 12 marks where most have 11/)
  })
  it('nothing is said where all agree', () => expect(warningsOf((rows) => rows)).not.toMatch(/where most have/))
})
