import { lookBands, nearLines, spanOf } from '#core/detect/line/look-bands'
import { describe, expect, it } from 'vitest'

const plane = { width: 70, height: 33, data: new Float32Array(0), factor: 2 }

describe('where a plane is looked at', () => {
  it('is everywhere, to the last column, when all is of use', () => {
    expect(lookBands(plane, () => true)).toEqual([[[0, 70]], [[0, 70]]])
  })

  it('is nowhere when nothing is', () => {
    expect(lookBands(plane, () => false)).toEqual([[], []])
  })

  it('by hand: squares of 32 px that a stripe of columns touches; column 48 of the plane is px 96.5 of the photo', () => {
    const stripe = ([x]: readonly [number, number]): boolean => x > 95 && x < 98
    expect(lookBands(plane, stripe)[0]).toEqual([[32, 64]])
  })

  it('leaves gaps between stretches', () => {
    const twoEnds = ([x]: readonly [number, number]): boolean => x < 20 || x > 129
    expect(lookBands(plane, twoEnds)[1]).toEqual([[0, 32], [64, 70]])
  })
})

describe('where a plane is looked at closely', () => {
  const wide = { width: 320, height: 320, data: new Float32Array(0), factor: 2 }
  const all = lookBands(wide, () => true)

  it('is the squares that a line touches and those about them; by hand: px 200 to 210 of the photo lie in square 3 of 64 px', () => {
    const near = nearLines(all, wide, [{ p0: [200, 205], p1: [210, 205] }])
    expect(near).toEqual([[], [], [[64, 160]], [[64, 160]], [[64, 160]], [], [], [], [], []])
  })

  it('is nowhere without lines, and no more than was open before', () => {
    expect(nearLines(all, wide, []).flat()).toEqual([])
    expect(nearLines(lookBands(wide, ([x]) => x > 700), wide, [{ p0: [200, 205], p1: [210, 205] }]).flat()).toEqual([])
  })

  it('spans rows from the first to the last column, one to spare', () => {
    const near = nearLines(all, wide, [{ p0: [200, 205], p1: [210, 205] }])
    expect([spanOf(near, [70, 90], 320), spanOf(near, [0, 63], 320), spanOf(near, [0, 64], 320)]).toEqual([[63, 161], null, [63, 161]])
  })
})
