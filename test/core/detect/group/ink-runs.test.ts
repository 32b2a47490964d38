import { inkRuns } from '#core/detect/group/ink-runs'
import { planeMap } from '#core/detect/plane-map'
import { inkProfile } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'
import { drawRaster, radial } from '../draw-raster.ts'

const SHAFT = [150.3, 140.6] as const
const RING = { centre: SHAFT, inner: 104, outer: 116, halfWidthPx: 0.8, sigmaPx: 0.9, amplitude: 70, from: 0, span: 2 * Math.PI }
const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const

describe('inked pieces of a ring', () => {
  it('are the strokes, not the compass arc as dark as they are that runs through them (simulated)', () => {
    const arc = (x: number, y: number): number => 210 - 120 * inkProfile(Math.hypot(x - SHAFT[0], y - SHAFT[1]) - 110, 1.3, 0.9)
    const strokes = Array.from({ length: 20 }, (_, i) => radial(SHAFT, 18 * i + 3, [102, 118], 1.6, 70))
    const raster = drawRaster([300, 280], strokes, { ground: arc, blur: 0.9, noise: 3, seed: 5 })
    const runs = inkRuns({ raster, map: planeMap(IDENTITY, null) }, RING, [102, 118], () => 210)
    expect(runs.length).toBe(20)
    // Half of what a blurred stroke of 1.6 px shows at three tenths of its depth is 1.6 px; the darkness where arc and stroke cross adds some.
    for (const { extent } of runs) expect(extent).toBeLessThan(2.6)
  })

  it('are not what lies solid over a stretch of it, as a coin does (simulated)', () => {
    const coin = (x: number, y: number): number => (Math.hypot(x - SHAFT[0] - 78, y - SHAFT[1] + 78) < 25 ? 120 : 210)
    const strokes = Array.from({ length: 10 }, (_, i) => radial(SHAFT, 18 * i + 99, [102, 118], 1.6, 70))
    const raster = drawRaster([300, 280], strokes, { ground: coin, blur: 0.9, noise: 3, seed: 6 })
    expect(inkRuns({ raster, map: planeMap(IDENTITY, null) }, RING, [102, 118], () => 210).length).toBe(10)
  })

  it('are not what is broad, even all across and paler than a stroke, as a pen laid over it is (simulated)', () => {
    const pen = (x: number, y: number): number => (x > SHAFT[0] && Math.abs(x + y - SHAFT[0] - SHAFT[1]) < 9 ? 175 : 210)
    const strokes = Array.from({ length: 10 }, (_, i) => radial(SHAFT, 18 * i + 99, [102, 118], 1.6, 70))
    const raster = drawRaster([300, 280], strokes, { ground: pen, blur: 0.9, noise: 2, seed: 7 })
    expect(inkRuns({ raster, map: planeMap(IDENTITY, null) }, RING, [102, 118], () => 210).length).toBe(10)
  })
  it('nor one that lies along the ring and leaves it slowly at both ends (simulated)', () => {
    const pen = (x: number, y: number): number => (x > SHAFT[0] && Math.abs(x - SHAFT[0] - 108 + 0.2 * (y - SHAFT[1])) < 9 ? 175 : 210)
    const strokes = Array.from({ length: 10 }, (_, i) => radial(SHAFT, 18 * i + 99, [102, 118], 1.6, 70))
    const raster = drawRaster([300, 280], strokes, { ground: pen, blur: 0.9, noise: 2, seed: 8 })
    expect(inkRuns({ raster, map: planeMap(IDENTITY, null) }, RING, [102, 118], () => 210).length).toBe(10)
  })
})
