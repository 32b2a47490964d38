import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

/** 24 steps at 1/4 of which each full step makes three commands in one jump, then one: N_eff 1.3152 (worked value of the handbook). */
const effective = (uDeg: number): { readonly value: number; readonly low: number; readonly high: number } => {
  const rest = (k: number): number => 15 * Math.floor(k / 4) + 3.75 * ([0, 3, 3, 3][k % 4] ?? 0)
  const trace = readTrace(`# steps-per-rev: 24\n# microsteps: 4\n# mark-uncertainty: ${uDeg} deg\nposition,command\n${Array.from({ length: 97 }, (_, k) => `${rest(k).toFixed(2)},${k}`).join('\n')}`)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return result.figures.effectiveMicrosteps
}

describe('a mark uncertainty larger than all errors', () => {
  it('leaves open that they are the motor’s, though 8° are stated', () => {
    const { low, high } = effective(8)
    expect(low).toBeLessThanOrEqual(1.3152)
    expect(high).toBeCloseTo(4, 6)
  })

  it('changes nothing where u may be what it is said to be', () => {
    expect(effective(0.1).low).toBeGreaterThan(1.3)
  })
})
