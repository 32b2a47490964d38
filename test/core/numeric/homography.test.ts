import { applyHomography, composeHomographies, fitEvenLines, fitHomography, invertHomography } from '#core/numeric/homography'
import { describe, expect, it } from 'vitest'

// Worked by hand: unit square → (0,0), (1,0), (0,1), (2/3, 2/3). The last corner sets (1·1)/(1 + g + h) = 2/3 with a = 1 + g,
// e = 1 + h and g = h by symmetry: (1 + g)/(1 + 2g) = 2/3, so g = h = 1, a = e = 2.
const square = [[0, 0], [1, 0], [0, 1], [1, 1]] as const
const image = [[0, 0], [1, 0], [0, 1], [2 / 3, 2 / 3]] as const
const worked = [2, 0, 0, 0, 2, 0, 1, 1, 1]

describe('homography', () => {
  it('is the one worked by hand for four points', () => {
    fitHomography(square, image)?.forEach((value, i) => expect(value).toBeCloseTo(worked[i] as number, 12))
  })

  it('takes points there and back', () => {
    const map = fitHomography(square, image)
    if (map === null) throw new Error('no map')
    const identity = composeHomographies(map, invertHomography(map))
    ;[1, 0, 0, 0, 1, 0, 0, 0, 1].forEach((value, i) => expect(identity[i]).toBeCloseTo(value, 12))
    expect(applyHomography(map, [0.5, 0.5])[0]).toBeCloseTo(0.5, 12)
  })

  it('refuses three points on one line among four, and fewer than four', () => {
    expect(fitHomography([[0, 0], [1, 1], [2, 2], [3, 3]], image)).toBeNull()
    expect(fitHomography(square.slice(0, 3), image.slice(0, 3))).toBeNull()
  })
})

// Worked by hand: the lines x = 0, 1 and 4 are the images of lines 0, 1 and 2 of a family: u = 3x / (x + 2), whose line at infinity is x = −2.
const fence = ([[0, 0], [0, 3], [1, 1], [1, 5], [4, -2], [4, 2]] as const).map(([x, y]) => ({ place: [x, y] as const, count: (3 * x) / (x + 2) }))

describe('evenly spaced lines', () => {
  const fitted = (turn: number) => fitEvenLines(fence.map(({ place: [x, y] }) => [Math.cos(turn) * x - Math.sin(turn) * y, Math.sin(turn) * x + Math.cos(turn) * y]), fence.map(({ count }) => count))

  it('tell the image of their line at infinity, worked by hand', () => {
    const map = fitted(0)
    ;[1.5, 0, 0].forEach((value, i) => expect(map?.[i]).toBeCloseTo(value, 10))
    ;[0.5, 0, 1].forEach((value, i) => expect(map?.[6 + i]).toBeCloseTo(value, 10))
  })

  it('tell it turned when they are turned', () => {
    ;[0.5 * Math.cos(1.1), 0.5 * Math.sin(1.1), 1].forEach((value, i) => expect(fitted(1.1)?.[6 + i]).toBeCloseTo(value, 10))
  })

  it('tell nothing from fewer than five places, or from one line', () => {
    expect(fitEvenLines([[0, 0], [0, 3], [1, 1], [1, 5]], [0, 0, 1, 1])).toBeNull()
    expect(fitEvenLines([[0, 0], [0, 1], [0, 2], [0, 3], [0, 5], [0, 8]], [0, 0, 0, 0, 0, 0])).toBeNull()
  })
})
