import { describe, expect, it } from 'vitest'
import { partialOutlines } from '#core/detect/paper/find-partial'

/** A pale thing about the middle of a small picture: where a square and a disc overlap. */
const overlap = (half: number, radius: number): Parameters<typeof partialOutlines>[0] => {
  const [columns, rows] = [320, 240]
  const grey = Float32Array.from({ length: columns * rows }, (_, i) => {
    const [x, y] = [Math.abs((i % columns) - 160), Math.abs(Math.floor(i / columns) - 120)]
    return x < half && y < half && Math.hypot(x, y) < radius ? 220 : 60
  })
  return { columns, rows, factor: 1, grey }
}

const sidesIn = (half: number, radius: number): number[] => partialOutlines(overlap(half, radius), [140], 1000).map((sides) => sides.length)

describe('the sides of something pale', () => {
  it('are those of a sheet, be its corners rounded or torn off', () => {
    expect(sidesIn(80, 1000)).toEqual([4])
    expect(sidesIn(80, 104)).toEqual([4])
  })

  it('are none where flats are the lesser part of something round, such as an instrument’s rim', () => {
    expect(sidesIn(96, 100)).toEqual([])
  })
})
