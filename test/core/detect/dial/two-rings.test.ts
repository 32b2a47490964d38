import { describe, expect, it } from 'vitest'
import { twoRings } from '#core/detect/dial/two-rings'
import { normal, seededRandom } from '#core/numeric/seeded-random'

const random = seededRandom(4)
const ring = (count: number, from: number, to: number, [start, end]: readonly [number, number]) =>
  Array.from({ length: count }, (_, i) => ({ bearing: start + ((end - start) * i) / count, inner: from + normal(random), outer: to + normal(random) }))

describe('marks on two rings', () => {
  it('finds a dial’s two scales', () => {
    const found = twoRings([...ring(41, 190, 215, [0, 5]), ...ring(61, 150, 172, [0, 5])])
    expect(found?.inner[1]).toBeCloseTo(172, 0)
    expect(found?.outer[0]).toBeCloseTo(190, 0)
  })
  it('takes short and long strokes that start alike for one ring', () => {
    expect(twoRings([...ring(40, 100, 112, [0, 6]), ...ring(40, 100, 130, [0, 6])])).toBeNull()
  })
  it('takes a ring that goes over into another radius half way for one: the paper or the pointer slipped', () => {
    expect(twoRings([...ring(30, 100, 110, [0, 3]), ...ring(30, 115, 125, [3, 6])])).toBeNull()
  })
  it('says nothing of few marks', () => {
    expect(twoRings(ring(9, 100, 120, [0, 6]))).toBeNull()
  })
})
