import { describe, expect, it } from 'vitest'
import { endingWithin } from '#core/detect/line/long-lines'
import { lineBetween as line } from './line-between.ts'

describe('a rule seen as three pieces, of which the outer two reach the paper’s edge, and a pen mark across it', () => {
  const [left, middle, right] = [line([2, 100], [300, 100]), line([340, 100], [400, 100]), line([440, 100], [798, 100])]
  const mark = line([370, 60], [370, 140])

  it('leaves the mark alone on the paper: the middle piece goes on', () => {
    expect(endingWithin([left, middle, right, mark], [middle, mark])).toEqual([mark])
  })

  it('leaves what is seen whole on the paper, pieces among them', () => {
    expect(endingWithin([left, middle, right, mark], [left, middle, right, mark])).toEqual([left, middle, right, mark])
  })
})
