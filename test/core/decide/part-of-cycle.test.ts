import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const warned = (commands: number): string => {
  const trace = readTrace(`# steps-per-rev: 48\n# microsteps: 4\n# mark-uncertainty: 0.1 deg\n${Array.from({ length: commands + 1 }, (_, k) => (1.875 * k).toFixed(3)).join('\n')}`)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  expect(result.recommendation.microsteps).toBe(4)
  return result.warnings.join('\n')
}

describe('a mode that holds on part of an electrical cycle', () => {
  it('is said to be seen in part: 6 of 16 commands are 1.5 of four full steps', () => {
    expect(warned(6)).toMatch(/cover 1\.5 of the four full steps .* at least 16 commands/)
    expect(warned(15)).toMatch(/cover 3\.8 of the four full steps/)
  })
  it('is not where all of it was seen', () => {
    expect(warned(16)).not.toMatch(/of the four full steps/)
  })
})
