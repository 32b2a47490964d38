import { boxSums, doubled, logOf, logPlane, smoothPlane } from '#core/detect/plane'
import { seededRandom } from '#core/numeric/seeded-random'
import { describe, expect, it } from 'vitest'

const random = seededRandom(9)
const raster = { width: 43, height: 29, grey: Uint8Array.from({ length: 43 * 29 }, () => Math.floor(256 * random())) }

describe('reduced pictures', () => {
  it('by hand: 2 × 2 boxes of 1 2 / 3 4 and 5 6 / 7 8 hold 10 and 26; what is over at the right and bottom is dropped', () => {
    const grey = Uint8Array.of(1, 2, 5, 6, 99, 3, 4, 7, 8, 99, 99, 99, 99, 99, 99)
    expect([...boxSums({ width: 5, height: 3, grey }, 2).sums]).toEqual([10, 26])
  })

  it('doubled twice are the same as boxes four times as wide', () => {
    const { width, height, sums, factor } = doubled(doubled(boxSums(raster, 2)))
    expect({ width, height, sums, factor }).toEqual({ ...boxSums(raster, 8) })
  })

  it('smoothed they are what Gauss\'s weights give by hand, the border going on, and stay level where they were', () => {
    const sigma = 1.3
    const taps = Array.from({ length: 9 }, (_, i) => Math.exp(-((i - 4) ** 2) / (2 * sigma ** 2)))
    const total = taps.reduce((sum, tap) => sum + tap)
    const plane = logPlane(raster, 1)
    const at = (x: number, y: number): number => plane.data[Math.max(0, Math.min(28, y)) * 43 + Math.max(0, Math.min(42, x))] as number
    const { data } = smoothPlane(plane, sigma)
    for (const [x, y] of [[0, 0], [42, 28], [41, 3], [20, 14], [3, 27]] as const) {
      const byHand = taps.reduce((sum, down, j) => sum + taps.reduce((row, right, i) => row + (down * right * at(x + i - 4, y + j - 4)) / total ** 2, 0), 0)
      expect(data[y * 43 + x]).toBeCloseTo(byHand, 5)
    }
    expect(Math.max(...smoothPlane({ ...plane, data: plane.data.map(() => 4) }, sigma).data.map((v) => Math.abs(v - 4)))).toBeLessThan(2e-6)
  })

  it('smoothed only where it is of interest, they are the same there', () => {
    const plane = logPlane(raster, 1)
    const whole = smoothPlane(plane, 1.3)
    const part = smoothPlane(plane, 1.3, ([first, last]) => (last >= 10 && first <= 14 ? [7, 30] : null))
    for (let y = 10; y <= 14; y++) expect(part.data.subarray(y * 43 + 7, y * 43 + 30)).toEqual(whole.data.subarray(y * 43 + 7, y * 43 + 30))
    expect(part.data[0]).toBe(0)
  })

  it('the logarithm is of the mean, over the toe of 12', () => {
    const { data } = logOf(boxSums(raster, 1))
    data.forEach((value, i) => expect(value).toBeCloseTo(Math.log((raster.grey[i] as number) + 12), 6))
    expect(logPlane(raster, 43).height).toBe(0)
  })
})
