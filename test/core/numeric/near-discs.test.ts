import { describe, expect, it } from 'vitest'
import { type Disc, nearDiscs } from '#core/numeric/near-discs'
import { seededRandom } from '#core/numeric/seeded-random'

const itself = (disc: Disc): Disc => disc

describe('near discs', () => {
  it('gives those whose squares meet, by index, the edge counted', () => {
    expect(nearDiscs([[0, 0, 1], [3, 0, 1], [0, 5, 1]], itself)([0, 0, 1])).toEqual([0])
    expect(nearDiscs([[0, 0, 1], [3, 0, 1], [0, 5, 1]], itself)([0, 0, 2])).toEqual([0, 1])
    expect(nearDiscs([[4, 4, 3]], itself)([0, 0, 1])).toEqual([0])
  })

  it('leaves out no disc that touches', () => {
    const random = seededRandom(7)
    const all = Array.from({ length: 300 }, (): Disc => [100 * random(), 100 * random(), 9 * random()])
    const near = nearDiscs(all, itself)
    for (const disc of all) {
      const touching = all.flatMap(([x, y, reach], i) => (Math.hypot(x - disc[0], y - disc[1]) <= reach + disc[2] ? [i] : []))
      expect(near(disc)).toEqual(expect.arrayContaining(touching))
    }
  })

  it('knows of nothing among none', () => {
    expect(nearDiscs([], itself)([0, 0, 1])).toEqual([])
  })
})
