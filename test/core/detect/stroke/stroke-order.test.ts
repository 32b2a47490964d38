import { orderPixels } from '#core/detect/stroke/stroke-order'
import { describe, expect, it } from 'vitest'

describe('pixels sorted by interval between knots', () => {
  it('by hand: t = 3, −3, 1, −1 over |t| ≤ 4 in two intervals, each in its old order', () => {
    const pixels = { count: 4, t: Float64Array.of(3, -3, 1, -1), s: Float64Array.of(0, 1, 2, 3), grey: Float64Array.of(10, 11, 12, 13) }
    const { t, s, grey, starts } = orderPixels(pixels, 4, 2)
    expect([...t]).toEqual([-3, -1, 3, 1])
    expect([...s]).toEqual([1, 3, 0, 2])
    expect([...grey]).toEqual([11, 13, 10, 12])
    expect([...starts]).toEqual([0, 2, 4])
  })

  it('counts what lies beyond the ends to the outermost intervals, and takes none', () => {
    const beyond = { count: 2, t: Float64Array.of(9, -9), s: new Float64Array(2), grey: new Float64Array(2) }
    expect([...orderPixels(beyond, 4, 3).starts]).toEqual([0, 1, 1, 2])
    expect([...orderPixels({ count: 0, t: beyond.t, s: beyond.s, grey: beyond.grey }, 4, 3).starts]).toEqual([0, 0, 0, 0])
  })
})
