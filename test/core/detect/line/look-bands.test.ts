import { lookBands } from '#core/detect/line/look-bands'
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
