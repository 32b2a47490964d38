import { fitHomography } from '#core/numeric/homography'
import { createRequire } from 'node:module'
import { describe, expect, it } from 'vitest'

interface OpenCv {
  readonly CV_64FC2: number
  matFromArray(rows: number, columns: number, type: number, values: readonly number[]): unknown
  findHomography(from: unknown, to: unknown, method: number): { readonly data64F: Float64Array }
}

const cv = (createRequire(import.meta.url)('opencv-wasm') as { readonly cv: OpenCv }).cv

// OpenCV 4.3 findHomography(…, 0): all points, then refined by steps that stop near 1e-7 of each element. For exact pairs both must give the same map.
const from = [[0, 0], [400, 10], [410, 300], [-5, 290], [200, 150]] as const
const map = [1.1, 0.05, 12, -0.03, 0.95, 7, 2e-4, -1e-4, 1]
const to = from.map(([x, y]) => {
  const w = (map[6] as number) * x + (map[7] as number) * y + 1
  return [((map[0] as number) * x + (map[1] as number) * y + (map[2] as number)) / w, ((map[3] as number) * x + (map[4] as number) * y + (map[5] as number)) / w] as const
})

describe('homography beside OpenCV’s findHomography', () => {
  it('gives the same nine elements for five exact pairs', () => {
    const matrix = (points: readonly (readonly [number, number])[]) => cv.matFromArray(points.length, 1, cv.CV_64FC2, points.flat())
    const theirs = [...cv.findHomography(matrix(from), matrix(to), 0).data64F]
    const ours = fitHomography(from, to) ?? []
    theirs.forEach((value, i) => expect(Math.abs((ours[i] as number) - value)).toBeLessThan(1e-6 * Math.max(1, Math.abs(value))))
  })
})
