import { traceEdge } from '#core/detect/paper/edge'
import { erf } from '#core/numeric/error-function'
import { describe, expect, it } from 'vitest'
import { drawRaster } from './draw-raster.ts'

const isClip = (x: number, y: number): boolean => x > 200 && x < 260 && y > 150
const ground = (x: number, y: number): number => (y >= 200 ? 110 : isClip(x, y) ? 105 : 240)

/** Paper down to y = 199.5, a dark clip over some of its edge, under it a cutting mat with a pale line (simulated; the step at the paper 130 grey levels, that at the line 70). */
const onMat = (line: number) => drawRaster([500, 400], [{ from: [-20, line], to: [520, line], width: 3, dark: -75 }], { ground, noise: 2 })

describe('the side of a sheet', () => {
  it.each([206, 208, 211])('is where the paper ends, not where a line of the mat beside it at y = %i does', (line) => {
    const { points, support } = traceEdge(onMat(line), [[10, 203], [490, 203]], [0, 1], { reach: 14 })
    expect(support).toBeGreaterThan(0.8)
    for (const [, y] of points) expect(Math.abs(y - 199.5)).toBeLessThan(1)
  })

  it('is where the light is half that of both sides, though grey falls most on the dark side of it', () => {
    // Light over an edge at y = 199.7 blurred by 1.2 px, as greys (exponent 1/2.2): by the steepest grey it would lie 0.5 px farther out.
    const light = (y: number): number => 0.02 + 0.78 * 0.5 * (1 - erf((y - 199.7) / (1.2 * Math.SQRT2)))
    const raster = drawRaster([500, 400], [], { ground: (_, y) => 255 * light(y) ** (1 / 2.2), noise: 2 })
    const { points } = traceEdge(raster, [[10, 201], [490, 201]], [0, 1], { reach: 10 })
    const mean = points.reduce((sum, [, y]) => sum + y / points.length, 0)
    // A place scatters by some 0.05 px, and rounding to grey levels adds as much to all of them.
    expect(Math.abs(mean - 199.7)).toBeLessThan(0.05)
  })
})
