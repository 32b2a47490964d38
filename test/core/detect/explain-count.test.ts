import type { DetectedMark } from '#core/detect/detection'
import { doubtSurplus, explainCount, oddGaps } from '#core/detect/explain-count'
import { describe, expect, it } from 'vitest'

const mark = (angleDeg: number, confidence = 0.97, multiplicity = 1): DetectedMark => ({
  angleDeg, uDeg: 0.02, uOwnDeg: 0.02, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: [0, 0], p1: [1, 0], widthPx: 3, confidence, multiplicity,
})

describe('a count that does not fit', () => {
  const turn = Array.from({ length: 40 }, (_, k) => mark(9 * k + 1))
  const without = turn.filter((_, k) => k !== 12)

  it('names the doubled gap when one mark is missing', () => {
    expect(explainCount(without, 40)).toEqual(['39 marks were found where 40 were expected: look between marks 12–13 (2.0 × the usual gap)'])
    expect(oddGaps(without)).toEqual(['a mark may be missing between 12 and 13: the gap is 2.0 times the usual one'])
  })

  it('names the mark that looks spurious when there is one too many', () => {
    const more = [...turn.slice(0, 5), mark(38.2, 0.3), ...turn.slice(5)]
    const sentences = explainCount(more, 40).join(' ')
    expect(sentences).toContain('the least sure are marks 6')
    expect(sentences).toContain('the closest are marks')
  })

  it('doubts the least sure where there are more than there can be, none of those it is sure of', () => {
    const more = [...turn.slice(0, 5), mark(38.2, 0.7), ...turn.slice(5)]
    expect(doubtSurplus(more, 40).flatMap((m, i) => (m.confidence < 0.5 ? [i] : []))).toEqual([5])
    expect(doubtSurplus(more, undefined)).toEqual(more)
    expect(doubtSurplus(turn, 39)).toEqual(turn)
    expect(doubtSurplus(without, 40)).toEqual(without)
  })

  it('counts a wide mark for what it may hold, and says that it is an estimate', () => {
    const wide = without.map((m, i) => (i === 3 ? mark(m.angleDeg as number, 0.9, 2) : m))
    expect(explainCount(wide, 40)).toEqual(['by their width or ink, marks 4 (2) may hold more than one rest position; that number is an estimate'])
  })

  it('says nothing when all is well, nor about gaps of marks in uneven groups', () => {
    expect(explainCount(turn, 40)).toEqual([])
    expect(explainCount(turn, undefined)).toEqual([])
    expect(oddGaps(Array.from({ length: 40 }, (_, k) => mark(36 * Math.floor(k / 4) + 2 * (k % 4))))).toEqual([])
  })
})
