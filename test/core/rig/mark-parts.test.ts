import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { setUpLines, setUpOfTrace } from '#core/report/set-up-lines'
import type { Result } from '#core/report/result-schema'

const rows = Array.from({ length: 25 }, (_, k) => `${(1.875 * k).toFixed(2)},${k}`)
const text = (head: readonly string[]): string => ['# steps-per-rev: 48', '# microsteps: 4', '# radius: 100 mm', ...head, 'position,command', ...rows].join('\n')
const measured = (head: readonly string[]): Result => {
  const trace = readTrace(text(head))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  return result
}
const degrees = (mm: number): number => (mm / 100) * (180 / Math.PI)
const told = ['# line-width: 0.6 mm', '# parallax: 0.2 mm', '# hand: 0.1 mm']

describe('line width, parallax and hand told apart', () => {
  const { uncertainty, rests } = measured(told)
  const row = (source: string) => uncertainty.contributions.find((part) => part.source === source)
  it('have a row each: a width counts as a rectangle, its half over √3 (JCGM 100, 4.3.7)', () => {
    expect(row('line width')?.uDeg).toBeCloseTo(degrees(0.3 / Math.sqrt(3)), 9)
    expect(row('hand')?.uDeg).toBeCloseTo(degrees(0.1), 9)
    expect(row('parallax')?.uDeg).toBeCloseTo(degrees(0.2), 9)
    expect(row('marking')).toBeUndefined()
  })
  it('an eye that stays put cancels in increments: U_g = 2·√2·√(line² + hand²)', () => {
    expect(row('parallax')?.kind).toBe('common')
    expect((rests[5]?.incrementUMicrosteps ?? 0) * 1.875).toBeCloseTo(2 * Math.SQRT2 * degrees(Math.hypot(0.3 / Math.sqrt(3), 0.1)), 9)
  })
  it('stand in place of mark-uncertainty, and say so', () => {
    const both = measured([...told, '# mark-uncertainty: 2 mm'])
    expect(both.uncertainty.markDeg).toBeCloseTo(uncertainty.markDeg, 9)
    expect(both.warnings.join(' ')).toMatch(/mark-uncertainty was left out/)
  })
  it('come back as head lines', () => {
    const trace = readTrace(text(told))
    if (trace.kind !== 'trace') throw new Error(trace.what)
    expect(setUpLines(setUpOfTrace(trace))).toEqual(expect.arrayContaining([['line-width', '0.6 mm'], ['parallax', '0.2 mm'], ['hand', '0.1 mm']]))
  })
})
