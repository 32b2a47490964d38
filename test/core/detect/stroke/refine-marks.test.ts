import { type Candidate, measureCandidates } from '#core/detect/line/candidate'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { logPlane } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import { modelFrom, refineMarks } from '#core/detect/stroke/refine-marks'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'
import { drawRaster } from '../draw-raster.ts'

const SIZE = [220, 160] as const

/** How far the fitted ends of a stroke lie from its drawn ends, along it, px. */
const beyond = (fit: StrokeFit | null | undefined, from: Point, to: Point): readonly number[] => {
  if (fit === null || fit === undefined) throw new Error('no fit')
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const along = [-1, 1].map((tau) => {
    const [x, y] = centreLineAt(fit.model, tau)
    return ((x - from[0]) * (to[0] - from[0]) + (y - from[1]) * (to[1] - from[1])) / length
  })
  return [Math.min(...along), Math.max(...along) - length]
}

const between = ([ax, ay]: Point, [bx, by]: Point, share: number): Point => [ax + share * (bx - ax), ay + share * (by - ay)]

/** The candidate a stroke would be, had its ends been found. */
const candidateAt = (raster: Raster, from: Point, to: Point): Candidate => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const along: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
  const places = new Int32Array(Math.round(length))
  const [candidate] = measureCandidates(logPlane(raster, 1), [{ p0: from, p1: to, middle: between(from, to, 0.5), along, length, lineLength: places.length, rms: 0.3, points: places }])
  if (candidate === undefined) throw new Error('no candidate')
  return candidate
}

describe('ends of strokes (simulated)', () => {
  const lines = Array.from({ length: 6 }, (_, k): readonly [Point, Point] => {
    const a = (Math.PI * (k + 0.37)) / 6
    return [[110 - 62 * Math.cos(a), 80 - 62 * Math.sin(a)], [110 + 62 * Math.cos(a), 80 + 62 * Math.sin(a)]]
  })

  // The ends are told from slices of 1.5 px, three together, and the ink's own blur: half of the three each way.
  it('finds both ends of black ink, whose middle pixel has nothing of the brightness of the paper', () => {
    for (const [k, [from, to]] of [...lines, ...lines, ...lines].entries()) {
      const raster = drawRaster(SIZE, [{ from, to, width: 1.5, dark: 285 }], { ground: 225, blur: 0.4, noise: 9.5, seed: 40 + k })
      const candidate = candidateAt(raster, from, to)
      for (const off of beyond(refineMarks(raster, [candidate])[0], from, to)) expect(Math.abs(off)).toBeLessThan(2.4)
    }
  })

  // Half of the darkness is still within the slack of the fit's first rounds; black ink on bright paper leaves nothing to scale up.
  it('starts from no less than about half of the ink, also where that is black', () => {
    const [from, to] = lines[1] as readonly [Point, Point]
    for (const dark of [40, 120, 215]) {
      const raster = drawRaster(SIZE, [{ from, to, width: 5, dark }], { ground: 215, blur: 0.8 })
      const start = modelFrom(candidateAt(raster, from, to), raster).amplitudes[0]
      expect(start).toBeGreaterThan(0.45 * dark)
      expect(start).toBeLessThan(1.1 * dark)
    }
  })

  // The pen skips for 24 px: more than a crossing line hides, with 70 px of ink after it.
  it('goes on over a skip of the pen, but not to a digit beyond the end', () => {
    const drawn = (from: number, to: number) => ({ from: [from, 80] as const, to: [to, 80] as const, width: 3, dark: 120 })
    const skipped = drawRaster(SIZE, [drawn(20, 106), drawn(130, 200)], { noise: 3 })
    for (const off of beyond(refineMarks(skipped, [candidateAt(skipped, [20, 80], [200, 80])])[0], [20, 80], [200, 80])) expect(Math.abs(off)).toBeLessThan(2.4)
    const digit = drawRaster(SIZE, [drawn(20, 150), drawn(174, 200)], { noise: 3 })
    for (const off of beyond(refineMarks(digit, [candidateAt(digit, [20, 80], [200, 80])])[0], [20, 80], [150, 80])) expect(Math.abs(off)).toBeLessThan(2.4)
  })

  // A hand's stroke, 4 px out of straight over 120: a straight line was found along its first two thirds.
  it('follows a bowed stroke to its end from the part that was found', () => {
    const at = (x: number): Point => [x, 80 - 4 * (1 - ((x - 100) / 60) ** 2)]
    const pieces = Array.from({ length: 30 }, (_, k) => ({ from: at(40 + 4 * k), to: at(44 + 4 * k), width: 3, dark: 120 }))
    const raster = drawRaster(SIZE, pieces, { noise: 3 })
    for (const off of beyond(refineMarks(raster, [candidateAt(raster, at(40), at(120))])[0], at(40), at(160))) expect(Math.abs(off)).toBeLessThan(2.4)
  })
})
