import { describe, expect, it } from 'vitest'
import { otherCounts, withOtherNumber } from '#core/assign/other-counts'

const bounds = { commands: 6, open: false }

describe('a mark given another number, by hand', () => {
  it('moves its neighbours as far as they must make way, and no further', () => {
    expect(withOtherNumber([0, 1, 2, 4, 6], 1, 2, bounds)).toEqual([0, 2, 3, 4, 6])
    expect(withOtherNumber([0, 2, 3, 4, 6], 3, 3, bounds)).toEqual([0, 1, 2, 3, 6])
  })
  it('is impossible where the first or last mark would have to move', () => {
    expect(withOtherNumber([0, 1, 2, 4, 5, 6], 4, 6, bounds)).toBeNull()
    expect(withOtherNumber([0, 1, 2, 4, 6], 2, 1, bounds)).toBeNull()
  })
  it('may move the last mark of a run that goes round up to the last command but one', () => {
    expect(withOtherNumber([0, 1, 2, 4], 3, 5, { commands: 6, open: true })).toEqual([0, 1, 2, 5])
    expect(withOtherNumber([0, 1, 2, 4], 3, 6, { commands: 6, open: true })).toBeNull()
  })
})

describe('countings nearly as likely', () => {
  it('holds one for each mark in doubt and one for all, each once', () => {
    const assignment = { lastCommand: [0, 1, 3, 4, 6], commands: 6, closed: false }
    const doubts = [{ place: 1, couldBe: 2, logOdds: 1 }, { place: 3, couldBe: 5, logOdds: 0.5 }]
    expect(otherCounts(assignment, doubts)).toEqual([[0, 1, 3, 5, 6], [0, 2, 3, 4, 6], [0, 2, 3, 5, 6]])
    expect(otherCounts(assignment, [])).toEqual([])
  })
})
