import { describe, expect, it } from 'vitest'
import { dealtOut } from '#core/numeric/dealt-out'

describe('values dealt out in turn', () => {
  it('gives each hand every so-manieth value, in order', () => {
    expect(dealtOut([1, 2, 3, 4, 5, 6, 7], 3)).toEqual([[1, 4, 7], [2, 5], [3, 6]])
  })
  it('leaves hands empty that nothing is left for', () => {
    expect(dealtOut([1], 3)).toEqual([[1], [], []])
  })
})
