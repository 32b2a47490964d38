import { describe, expect, it } from 'vitest'
import { centreDoubts } from '#core/detect/bearing-doubts'

const ring = (count: number, turn: number, radius: number) =>
  Array.from({ length: count }, (_, i) => [7 + radius * Math.cos((turn * i) / count), -3 + radius * Math.sin((turn * i) / count)] as const)

const meanSquare = (values: readonly number[]): number => values.reduce((sum, v) => sum + v * v, 0) / values.length

describe('what a doubtful centre leaves in bearings, the common turn aside', () => {
  it('is e/R per axis over a full turn: mean square (xx + yy)/2R²', () => {
    const doubts = centreDoubts(ring(96, 2 * Math.PI, 80), [7, -3], [0.04, 0.01, 0.09])
    expect(meanSquare(doubts)).toBeCloseTo(0.13 / 2 / 6400, 12)
  })

  it('is what moving the centre does, mark by mark', () => {
    const points = ring(20, 2, 50)
    const moved = 1e-4
    const off = points.map(([x, y]) => Math.atan2(y + 3, x - 7 - moved) - Math.atan2(y + 3, x - 7))
    const mean = off.reduce((a, b) => a + b, 0) / off.length
    const doubts = centreDoubts(points, [7, -3], [moved * moved, 0, 0])
    // Second order of the move: 1e-4/50 of each.
    doubts.forEach((u, i) => expect(u).toBeCloseTo(Math.abs((off[i] as number) - mean), 10))
  })

  it('goes with the cube of a small arc: a shift aside only turns it', () => {
    const narrow = centreDoubts(ring(30, 0.1, 50), [7, -3], [0, 0, 1])
    const wide = centreDoubts(ring(30, 0.2, 50), [7, -3], [0, 0, 1])
    expect(meanSquare(wide) / meanSquare(narrow)).toBeGreaterThan(3.5)
  })
})
