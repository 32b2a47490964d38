import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

/** A photo's strip at 1 m, 200 steps at 1/16, even; every mark seen to 2 µm. */
const verdicts = (commands: number, head = ''): string[] => {
  const rows = Array.from({ length: commands + 1 }, (_, k) => `${(1000 * Math.tan((2 * 0.1125 * (k - commands / 2) * Math.PI) / 180) + 0.01 * ((k * 7) % 5)).toFixed(6)},0.002`)
  const trace = readTrace(`# steps-per-rev: 200\n# microsteps: 16\n# rig: mirror\n# position-unit: mm\n# distance: 1000 mm\n# foot: 0 mm\n# order: none\n${head}position,uncertainty\n${rows.join('\n')}`)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return [...new Set(result.modes.map(({ verdict }) => verdict))]
}

describe('a photo says how well strokes are seen, not how well they were placed', () => {
  it('so no verdict rests on it where one electrical cycle is all there is', () => {
    expect(verdicts(64)).toEqual(['not proven'])
  })

  it('but for what was stated beside it, as a whole or in parts', () => {
    expect(verdicts(64, '# mark-uncertainty: 0.1 mm\n')).toEqual(['holds'])
    expect(verdicts(64, '# hand: 0.1 mm\n')).toEqual(['holds'])
  })

  it('or for what several cycles show', () => {
    expect(verdicts(192)).toEqual(['holds'])
  })
})
