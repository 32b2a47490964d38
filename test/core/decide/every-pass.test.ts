import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: three passes of 64 commands at 1/4 of a 48-step motor, u = 0.04 microstep; in the second, command 30 moves 0.25 microsteps only, and the next one makes up for it.
const finestOf = (shortBy: number) => {
  const random = seededRandom(7)
  const rows = [1, 2, 3].flatMap((pass) => Array.from({ length: 65 }, (_, k) => `${(1.875 * (k - (pass === 2 && k === 30 ? shortBy : 0) + 0.04 * normal(random))).toFixed(4)},${k},${pass}`))
  const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.075 deg', 'position,command,pass', ...rows].join('\n'))
  const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
  if ('kind' in result) throw new Error(result.what)
  return result.modes.at(-1)
}

describe('a mode that one of several passes fails', () => {
  it('is not proven though the mean holds (0.75 of nominal), and says which pass', () => expect(finestOf(0.75)).toMatchObject({ verdict: 'not proven', why: expect.stringMatching(/in the mean of 3 passes .* in pass 2 alone the worst of 64 increments/) }))
  it('holds where all do', () => expect(finestOf(0)?.verdict).toBe('holds'))
})
