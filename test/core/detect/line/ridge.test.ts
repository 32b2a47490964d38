import { lookBands } from '#core/detect/line/look-bands'
import { ridgeNoise } from '#core/detect/line/ridge'
import { describe, expect, it } from 'vitest'
import { normal, seededRandom } from '../draw-raster.ts'

const plane = (valueAt: (x: number) => number) => {
  const random = seededRandom(5)
  return { width: 512, height: 512, factor: 1, data: Float32Array.from({ length: 512 * 512 }, (_, i) => 0.01 * normal(random) + valueAt(i % 512)) }
}
const right = ([x]: readonly [number, number]): boolean => x >= 300

describe('what noise alone gives', () => {
  it('is the spread of the Laplacian of white noise, √20 of its own (by hand: 4² + 4 · 1²)', () => {
    const level = plane(() => 0)
    expect(ridgeNoise(level, lookBands(level, () => true)) / (0.01 * Math.sqrt(20))).toBeCloseTo(1, 1)
  })

  it('is told from where marks may lie, not from the striped cloth beside the paper (simulated)', () => {
    const level = plane(() => 0)
    const cloth = plane((x) => (x < 250 ? 0.3 * Math.sin(1.3 * x) : 0))
    expect(ridgeNoise(cloth, lookBands(cloth, right))).toBeCloseTo(ridgeNoise(level, lookBands(level, right)), 3)
  })

  it('is 0 where nothing is looked at', () => {
    const level = plane(() => 0)
    expect(ridgeNoise(level, lookBands(level, () => false))).toBe(0)
  })
})
