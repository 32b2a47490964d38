import { describe, expect, it } from 'vitest'
import { readStoppedRun, traceHead, traceRow } from '#core/prepare/pace/pace-rows'
import { beginning, indexAfterMarks, isOver, type PaceState, pressKey, timeOver } from '#core/prepare/pace/pace-session'
import type { PaceSetup } from '#core/prepare/pace/pace-setup'
import { scheduleOf } from '#core/prepare/pace/schedule-of'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

const setup: PaceSetup = {
  motor: 'flap',
  stepsPerRev: 48,
  microsteps: 4,
  commands: 2,
  passes: 1,
  bothWays: true,
  direction: 1,
  settleS: 0,
  dwellS: 1,
  runUp: 1,
  rate: 10,
  coolS: 0,
  energisedLimitS: 3600,
}
const events = scheduleOf(setup)

const press = (keys: string, from: PaceState = beginning) => {
  const made: string[] = []
  let state = from
  for (const key of keys) {
    const step = pressKey(events, state, key)
    if (step.made) made.push(traceRow(step.made))
    state = step.state
  }
  return { state, made }
}

describe('a paced run', () => {
  it('walks run-up, marks, overrun and return with Enter alone', () => {
    const { state, made } = press('\n'.repeat(10))
    expect(made).toEqual([',0,,1,+,\n', ',1,,1,+,\n', ',2,,1,+,\n', ',2,,1,-,\n', ',1,,1,-,\n', ',0,,1,-,\n'])
    expect(isOver(events, state)).toBe(true)
  })

  it('stands still while paused or while something is typed', () => {
    const at = press('\n\n').state
    expect(timeOver(events, press('p', at).state).made).toBeNull()
    expect(timeOver(events, press('n', at).state).made).toBeNull()
    expect(timeOver(events, press('pp', at).state).made).not.toBeNull()
  })

  it('gives the time of a mark again without moving on', () => {
    const at = press('\n\n').state
    expect(pressKey(events, at, 'r')).toEqual({ state: at, made: null, restart: true })
  })

  it('keeps a note with its mark, letters of keys and all; Esc drops what is typed', () => {
    const at = press('\n\n').state
    expect(press('nprsq stuck\n\n', at).made).toEqual([',0,,1,+,prsq stuck\n'])
    expect(press('nx\u001b\n', at).made).toEqual([',0,,1,+,\n'])
    expect(press('12.x\u007f5\n', at).made).toEqual(['12.5,0,,1,+,\n'])
    expect(press('1-2\n', at).made).toEqual([])
    expect(press('1-2\n\u007f\u007f.5\n', at).made).toEqual(['1.5,0,,1,+,\n'])
  })

  it('takes a decimal comma for a point: the file is parted by commas', () => {
    const at = press('\n\n').state
    expect(press('1,25\n', at).made).toEqual(['1.25,0,,1,+,\n'])
    expect(press('-,5\n', at).made).toEqual(['-.5,0,,1,+,\n'])
  })

  it('ignores keys it does not know', () => {
    expect(press('xyzX?!').state).toEqual(beginning)
  })
})

describe('rows of a trace being written', () => {
  const mark = { command: 3, pass: 1, direction: 1, skipped: false, position: '', note: '' } as const

  it('shows notes as text: no line ends, no formula, no escape codes', () => {
    expect(traceRow({ ...mark, note: '=HYPERLINK("x")\nnext' })).toBe(`,3,,1,+,"'=HYPERLINK(""x"") next"\n`)
    expect(traceRow({ ...mark, note: '\u001b[2Jgone' })).toBe(',3,,1,+,[2Jgone\n')
    expect(traceRow({ ...mark, note: '@cmd' })).toBe(",3,,1,+,'@cmd\n")
  })

  it('reads back what was done, skipped marks too, and not the half line at the end', () => {
    const text = `${traceHead(setup, [['motor', 'a\nb']])}${traceRow({ ...mark, command: 0 })}${traceRow({ ...mark, command: 1, skipped: true })},2,,1,+`
    const stopped = readStoppedRun(text, 'x')
    expect(stopped).toMatchObject({
      done: [{ command: 0 }, { command: 1 }],
      wholeLength: text.length - 7,
      run: { commands: 2, bothWays: true, dwellS: 1 },
    })
    expect(text).toContain('# motor: a b\n')
    expect(isUnmeasurable(readStoppedRun('position\n1\n', 'x'))).toBe(true)
  })

  it('goes on after so many marks, the overrun before a return included', () => {
    expect([0, 1, 3, 6].map((marks) => events[indexAfterMarks(events, marks)]?.kind)).toEqual([
      'run',
      'mark',
      'run',
      undefined,
    ])
  })
})
