import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { markName } from '#core/assign/mark-name'

const measured = (text: string): Result => {
  const trace = readTrace(text)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return result
}

describe('what a mark is called', () => {
  it('its number; and its line, where that is another', () => {
    expect(markName({ line: 7, number: 7 })).toBe('7')
    expect(markName({ line: 7 })).toBe('7')
    expect(markName({ line: 58, number: 51 })).toBe('51 (line 58)')
  })

  it('counts marks, not lines of the file: five of head, a mark that stands alone at command 20', () => {
    const rows = Array.from({ length: 97 }, (_, k) => `${(3.75 * k + 0.02 * ((k * 7) % 5) + (k === 20 ? 1.5 : 0)).toFixed(2)},${k}`)
    const { warnings } = measured(['# motor: x', '# steps-per-rev: 24', '# microsteps: 4', '# mark-uncertainty: 0.05 deg', 'position,command', ...rows].join('\n'))
    expect(warnings.join('\n')).toMatch(/^Mark 21 \(line 26\) stands alone/m)
  })
})
