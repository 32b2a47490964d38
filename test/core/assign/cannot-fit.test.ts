import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'

// A whole turn of a 48-step motor in quarter steps, one command each, read to 0.01°.
const rows = (number: (k: number) => number): string[] => Array.from({ length: 193 }, (_, k) => `${number(k)},${(1.875 * k).toFixed(2)}`)
const refusal = (stepsPerRev: number, microsteps: number, number: (k: number) => number = (k) => k): string => {
  const trace = readTrace([`# steps-per-rev: ${stepsPerRev}`, `# microsteps: ${microsteps}`, '# mark-uncertainty: 0.1 deg', 'command,position', ...rows(number)].join('\n'))
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  return isUnmeasurable(result) ? sentenceOf(result) : ''
}

describe('numbered marks of a whole turn that contradict the set-up', () => {
  it('another number of steps: the span is what the rows turned, and the number that fits is named', () => expect(refusal(200, 4)).toMatch(/the marks span 360° at the shaft, which is 800 microsteps of 0.45°.*a motor of 48 steps per turn\)/))
  it('another number of microsteps: named beside the steps that would fit as well', () => expect(refusal(48, 8)).toMatch(/384 microsteps.*a motor of 24 steps per turn, or 4 microsteps per full step\)/))
  it('commands counted in sixteenths where quarters were made', () => expect(refusal(48, 4, (k) => 4 * k)).toMatch(/193 marks for 768 commands; the command numbers count by 4 where the shaft moved one microstep: number the commands 0, 1, 2/))
  it('no electrical cycles are said to be lost there', () => expect([refusal(200, 4), refusal(48, 8), refusal(48, 4, (k) => 4 * k)].join()).not.toMatch(/lost/))
})

describe('one row typed wrong among numbered ones', () => {
  it('leads none of the later ones astray, half a turn off or nearly', () => {
    for (const off of [150, 176, 178, 180, 182, 184, 210]) {
      const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', 'command,position', ...Array.from({ length: 193 }, (_, k) => `${k},${(1.875 * k + (k === 100 ? off : 0)).toFixed(2)}`)].join('\n'))
      const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
      if (isUnmeasurable(result)) throw new Error(`${off}: ${result.what}`)
      expect(result.rests.at(-1)?.angleDeg).toBeCloseTo(360, 0)
      expect(result.warnings.join()).toMatch(/Mark 101 .*stands alone/)
    }
  })
})
