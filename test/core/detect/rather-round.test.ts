import type { Detection } from '#core/detect/detection'
import { ratherRound } from '#core/detect/rather-round'
import type { Scene } from '#core/detect/scene'
import { describe, expect, it } from 'vitest'

const marks = (count: number): Detection['marks'] =>
  Array.from({ length: count }, (_, i) => ({ positionPx: 40 * i + 13 * Math.sin(7 * i), p0: [40 * i, 100], p1: [40 * i, 130], widthPx: 3 })) as unknown as Detection['marks']
const row = (pixelsPerMm: number | null): Detection => ({ rig: 'mirror', marks: marks(20), pixelsPerMm, doubts: [] }) as unknown as Detection
const round = (count: number): Detection => ({ rig: 'pointer', marks: marks(count), doubts: [] }) as unknown as Detection
const scene = (hints: Scene['hints']): Scene => ({ hints, surface: { sheet: null }, short: [] }) as unknown as Scene

// Pieces of a coffee ring stood in a row of 20 on a photo of 40 strokes round a shaft, and 13 of these were read.
describe('a row without a scale, as even as no print is', () => {
  it('gives way to half as many strokes more round a shaft, and says so', () => {
    const seen = ratherRound(row(null), scene({}), () => round(31))
    expect(seen).toMatchObject({ rig: 'pointer', doubts: [expect.stringContaining('--rig')] })
  })

  it.each([
    ['of fewer strokes', row(null), {}, 29],
    ['with a scale', row(5), {}, 60],
    ['that was spoken of', row(null), { rig: 'mirror' }, 60],
  ] as const)('stays one %s', (_, seen, hints, count) => {
    expect(ratherRound(seen, scene(hints), () => round(count))).toBe(seen)
  })
})
