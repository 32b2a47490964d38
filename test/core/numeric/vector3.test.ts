import { expect, it } from 'vitest'
import { cross, dot, times } from '#core/numeric/vector3'

it('vectors: x × y = z, by hand; a product is square to both and turns over with their order', () => {
  expect(cross([1, 0, 0], [0, 1, 0])).toEqual([0, 0, 1])
  const [a, b] = [[1, 2, 3], [-2, 0.5, 4]] as const
  expect([dot(cross(a, b), a), dot(cross(a, b), b)]).toEqual([0, 0])
  expect(times(-1, cross(a, b))).toEqual(cross(b, a))
})
