import { describe, expect, it } from 'vitest'
import { meanRun } from '#core/figures/mean-run'
import { strayRepeats } from '#core/figures/stray-repeats'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated runs of 40 commands, u = 0.05°; one value in one of them is 0.6° off.
const runs = (count: number, seed: number, stray: number | null) => {
  const random = seededRandom(seed)
  const commands = Array.from({ length: 41 }, (_, k) => k)
  return Array.from({ length: count }, (_, p) => {
    const earlyDeg = commands.map((k) => 1.875 * k + 0.02 * p + 0.05 * normal(random) + (p === 1 && k === stray ? 0.6 : 0))
    return { pass: p + 1, direction: 1 as const, commands, earlyDeg, lateDeg: earlyDeg, uDeg: commands.map(() => 0.05) }
  })
}

describe('rests that one pass has elsewhere', () => {
  it('of three passes: which one, where, and by how much (0.6° ± 3·0.05·√1.5)', () => {
    const [stray, ...others] = strayRepeats(meanRun(runs(3, 1, 17)), 0.05)
    expect(stray).toMatchObject({ command: 17, pass: 2, back: false })
    expect(Math.abs((stray?.offDeg ?? 0) - 0.6)).toBeLessThan(0.19)
    expect(others).toEqual([])
  })
  it('of two passes: where, but not which', () => expect(strayRepeats(meanRun(runs(2, 2, 30)), 0.05)[0]).toMatchObject({ command: 30, pass: null }))
  it('passes as good as stated: hardly ever one (2 % by design; 100 simulated, up to 8 with a chance of 0.1 %)', () =>
    expect(Array.from({ length: 100 }, (_, seed) => strayRepeats(meanRun(runs(3, 10 + seed, null)), 0.05)).filter(({ length }) => length > 0).length).toBeLessThanOrEqual(8))
  it('the same where nobody stated it', () =>
    expect(Array.from({ length: 100 }, (_, seed) => strayRepeats(meanRun(runs(3, 10 + seed, null)), 0)).filter(({ length }) => length > 0).length).toBeLessThanOrEqual(8))
  it('one pass says nothing', () => expect(strayRepeats(meanRun(runs(1, 3, null)), 0.05)).toEqual([]))
})

it('two digits typed the wrong way round in one of three passes are said', () => {
  const rows = runs(3, 4, null).flatMap(({ pass, commands, earlyDeg }) => commands.map((k) => `${(earlyDeg[k] ?? 0).toFixed(2)},${k},${pass}`))
  const typed = rows.map((row) => (/^\S+,21,2$/.test(row) ? `${(runs(3, 4, null)[1]?.earlyDeg[21] ?? 0).toFixed(2).replace(/(\d)(\d)\./, '$2$1.')},21,2` : row))
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.05 deg', 'position,command,pass', ...typed].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  expect('warnings' in result ? result.warnings.join(' ') : result.what).toMatch(/at command 21 of pass 2 by 5[34]/)
})
