import { describe, expect, it } from 'vitest'
import { settlingLabels } from '#core/report/settling-labels'

const doubt = { line: 1, command: 1, couldBe: 2, logOdds: 1 }

describe('the marks to number', () => {
  it('one, several, and those that follow', () => {
    expect(settlingLabels({ labelsToSettle: [23], doubts: [doubt] }, 'typed')).toBe('Number the mark on line 23 in a command column to settle it.')
    expect(settlingLabels({ labelsToSettle: [23, 31, 48], doubts: [doubt, doubt, doubt, doubt, doubt] }, 'typed')).toBe('Number the marks on lines 23, 31 and 48 in a command column to settle it. The other 2 in doubt then follow.')
  })

  it('a photo has no lines: its marks by their numbers', () => {
    expect(settlingLabels({ labelsToSettle: [23, 31], doubts: [doubt, doubt] }, 'photo')).toBe('Number marks 23 and 31 in a command column to settle it.')
  })
})
