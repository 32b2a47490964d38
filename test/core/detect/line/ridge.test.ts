import { lookBands } from '#core/detect/line/look-bands'
import { ridgeLines, ridgeNoise } from '#core/detect/line/ridge'
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

describe('centre lines', () => {
  const limits = { least: 0.01, seed: 0.02, leastPoints: 6 }
  /** A valley of Gauss's shape and depth 1, of width sigma, along y = 20.3 + x/5 up to a column. */
  const [sigma, slope, end] = [1.5, 0.2, 60]
  const valley = { width: 83, height: 61, factor: 1, data: Float32Array.from({ length: 83 * 61 }, (_, i) => (i % 83 > end ? 0 : -Math.exp(-(((Math.floor(i / 83) - 20.3 - slope * (i % 83)) / Math.hypot(1, slope)) ** 2) / (2 * sigma ** 2)))) }

  it('lie in the bottom of a valley, in one chain from end to end, as strong as its curvature (by hand: depth/σ²)', () => {
    const { points, chains } = ridgeLines(valley, lookBands(valley, () => true), limits)
    const [chain] = [...chains].sort((a, b) => b.length - a.length)
    expect(chain?.length).toBeGreaterThan(50)
    const xs = [...(chain ?? [])].map((i) => points.x[i] as number)
    expect(xs.every((x, i) => i === 0 || x > (xs[i - 1] as number)) || xs.every((x, i) => i === 0 || x < (xs[i - 1] as number))).toBe(true)
    for (const i of [...(chain ?? [])].filter((j) => (points.x[j] as number) > 3 && (points.x[j] as number) < end - 4)) {
      // Differences over whole pixels see a valley of this width a little flatter and shift the bottom by a few hundredths (seen).
      expect(Math.abs((points.y[i] as number) - 20.3 - slope * (points.x[i] as number))).toBeLessThan(0.06)
      expect(Math.abs((points.strength[i] as number) * sigma ** 2 - 1)).toBeLessThan(0.25)
    }
  })

  it('are found again the same after other work in the same memory, larger and smaller, also along the border', () => {
    const border = { ...valley, data: valley.data.map((_, i) => ([1, 2, 80, 81].includes(i % 83) || [1, 59].includes(Math.floor(i / 83)) ? -1 : 0)) }
    const other = plane((x) => Math.sin(x / 3))
    for (const each of [valley, border]) {
      const look = lookBands(each, () => true)
      const before = ridgeLines(each, look, limits)
      ridgeLines(other, lookBands(other, () => true), limits)
      expect(ridgeLines(each, look, limits)).toEqual(before)
    }
  })

  it('are none where nothing is looked at, nor on a level plane', () => {
    const level = { ...valley, data: new Float32Array(83 * 61) }
    expect(ridgeLines(valley, lookBands(valley, () => false), limits).chains).toEqual([])
    expect(ridgeLines(level, lookBands(level, () => true), limits).chains).toEqual([])
  })
})
