import { describe, expect, it } from 'vitest'
import { fullStepPhase } from '#core/decide/full-step-phase'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'

// Simulated: 1/4 of a 48-step motor, ten electrical cycles.
const microstepDeg = 1.875
const marks = (errorDeg: (k: number) => number, length = 161): number[] => Array.from({ length }, (_, k) => microstepDeg * k + errorDeg(k))
const phaseOf = (anglesDeg: readonly number[], given: number | null = null) => fullStepPhase({ anglesDeg, firstCommand: 0 }, 4, given)

describe('where the full steps lie', () => {
  it('given: as given', () => expect(phaseOf(marks(() => 0), 7)).toEqual({ place: 3, command: 3, decidedBy: 'given', otherPlace: null }))
  it('nothing but noise: the start, and the evenest place by chance is the other one', () => {
    const random = seededRandom(1)
    expect(phaseOf(marks(() => 0.1 * normal(random)))).toMatchObject({ place: 0, decidedBy: 'start' })
  })
  it('fourth-order detent leaves full steps even at any phase: the start', () => expect(phaseOf(marks((k) => 0.5 * Math.sin(Math.PI * k + 0.3)))).toMatchObject({ place: 0, decidedBy: 'start' }))
  it('numbers that count down from 0: command 0 is the start, not the lowest (10 commands: -8 stands two full steps of it)', () => expect(fullStepPhase({ anglesDeg: marks(() => 0, 11), firstCommand: -10 }, 4, null)).toMatchObject({ place: 2, command: -8, decidedBy: 'start' }))
  it('numbers that begin elsewhere: the first', () => expect(fullStepPhase({ anglesDeg: marks(() => 0, 11), firstCommand: 1 }, 4, null)).toMatchObject({ place: 0, command: 1, decidedBy: 'start' }))
  it('unequal phases, begun one microstep before a full step: found, with the start as the other one', () => {
    const random = seededRandom(2)
    expect(phaseOf(marks((k) => 0.5 * Math.sin((Math.PI / 4) * (k - 1)) + 0.02 * normal(random)))).toMatchObject({ place: 1, decidedBy: 'fit', otherPlace: 0 })
  })
})

describe('a verdict that hangs on where the full steps lie', () => {
  // Second order of 1.2 microsteps whose zeros lie half a full step off the start: by hand, full steps of 1 ± 2.4/4 from the start on, even ones from command 2 on.
  const random = seededRandom(3)
  const rows = marks((k) => 1.2 * microstepDeg * Math.cos((Math.PI / 4) * k) + 0.02 * normal(random)).map((angle) => angle.toFixed(4))
  const fullStepsWith = (head: readonly string[]) => {
    const trace = readTrace(['# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.02 deg', ...head, 'position', ...rows].join('\n'))
    const result = trace.kind === 'trace' ? measure(trace, { cause: false }) : trace
    return 'modes' in result ? result.modes.find(({ microsteps }) => microsteps === 1) : undefined
  }
  it('is as the given full step says', () => expect(['2', '0'].map((command) => fullStepsWith([`# full-step-command: ${command}`])?.verdict)).toEqual(['holds', 'fails']))
  it('is not proven where nobody said, and says what would settle it', () => {
    expect(fullStepsWith([])?.verdict).toBe('not proven')
    expect(fullStepsWith([])?.why).toMatch(/counted from command 0, the start.*give full-step-command/)
  })
})
