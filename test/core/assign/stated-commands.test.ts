import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'

const said = (head: string): string => {
  const trace = readTrace(`${head}# mark-uncertainty: 0.1 deg\nposition,command\n${Array.from({ length: 49 }, (_, k) => `${(1.875 * k).toFixed(3)},${k}`).join('\n')}`)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  return isUnmeasurable(result) ? sentenceOf(result) : result.warnings.join('\n')
}

describe('tallies', () => {
  it('win over a stated number of commands, and that they do is said', () => {
    const tallied = (commands: number): string => {
      const trace = readTrace(`# steps-per-rev: 48\n# microsteps: 4\n# commands: ${commands}\n# mark-uncertainty: 0.1 deg\nposition,tally\n${Array.from({ length: 25 }, (_, k) => `${(3.75 * k).toFixed(3)},${k === 0 ? 0 : 2}`).join('\n')}`)
      const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
      return isUnmeasurable(result) ? sentenceOf(result) : result.warnings.join('\n')
    }
    expect(tallied(47)).toMatch(/47 commands were stated, but the tallies make 48: the tallies were taken/)
    expect(tallied(48)).not.toMatch(/were stated/)
  })
})

describe('numbered marks', () => {
  it('win over a stated number of commands, and that they do is said', () => {
    expect(said('# steps-per-rev: 48\n# microsteps: 4\n# commands: 20\n')).toMatch(/20 commands were stated, but the command numbers make 48/)
    expect(said('# steps-per-rev: 48\n# microsteps: 4\n# commands: 48\n')).not.toMatch(/were stated/)
  })

  it('are not asked for again where they fit no such motor', () => {
    expect(said('# steps-per-rev: 200\n# microsteps: 4\n')).toMatch(/check steps per revolution.*, or the numbers in the command column/)
  })

  it('are not asked for off a photo, whose marks nobody numbered: the overlay is', () => {
    const rows = Array.from({ length: 49 }, (_, k) => (1.875 * k).toFixed(3)).join('\n')
    const trace = readTrace(`# steps-per-rev: 200\n# microsteps: 4\n# commands: 300\n# order: none\n# mark-uncertainty: 0.1 deg\nposition\n${rows}`)
    const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
    expect(isUnmeasurable(result) ? sentenceOf(result) : 'measured').toMatch(/check steps per revolution.*, or on the overlay whether marks are missing/)
  })
})
