import { traceEdge } from '#core/detect/paper/edge'
import { describe, expect, it } from 'vitest'
import { drawRaster } from './draw-raster.ts'

const isClip = (x: number, y: number): boolean => x > 200 && x < 260 && y > 150
const ground = (x: number, y: number): number => (y >= 200 ? 110 : isClip(x, y) ? 105 : 240)

/** Paper down to y = 199.5, a dark clip over some of its edge, under it a cutting mat with a pale line (simulated; the step at the paper 130 grey levels, that at the line 70). */
const onMat = (line: number) => drawRaster([500, 400], [{ from: [-20, line], to: [520, line], width: 3, dark: -75 }], { ground, noise: 2 })

describe('the side of a sheet', () => {
  it.each([206, 208, 211])('is where the paper ends, not where a line of the mat beside it at y = %i does', (line) => {
    const { points, support } = traceEdge(onMat(line), [[10, 203], [490, 203]], [0, 1], 14)
    expect(support).toBeGreaterThan(0.8)
    for (const [, y] of points) expect(Math.abs(y - 199.5)).toBeLessThan(1)
  })
})
