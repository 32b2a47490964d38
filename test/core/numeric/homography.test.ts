import { applyHomography, composeHomographies, fitHomography, invertHomography } from '#core/numeric/homography'
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
