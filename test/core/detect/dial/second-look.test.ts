import { fittedMark } from '#core/detect/centre/seen-from-centre'
import { lookFarther } from '#core/detect/dial/look-round'
import { planeMap } from '#core/detect/plane-map'
import { lookAgain } from '#core/detect/dial/second-look'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { describe, expect, it } from 'vitest'
import { drawRaster, type DrawnStroke, radial } from '../draw-raster.ts'

const SHAFT = [150.3, 140.6] as const
const MAP = planeMap([1, 0, 0, 0, 1, 0, 0, 0, 1], null)
const TURN = 2 * Math.PI
const RING = { centre: SHAFT, inner: 95, outer: 119, halfWidthPx: 0.8, sigmaPx: 0.9, amplitude: 60, from: 0, span: TURN }
const DRAWN = { halfWidth: 0.8, sigma: 0.9, amplitudes: [60, 60] }

const strokeAt = (bearingDeg: number, [inner, outer]: readonly [number, number] = [93, 121], dark = 60): DrawnStroke => radial(SHAFT, bearingDeg, [inner, outer], 1.6, dark)
const modelOf = ({ from, to }: DrawnStroke) => strokeBetween(from, to, DRAWN)
/** To the nearest 5°: the look goes round in steps of a third of a degree. */
const bearings = (found: readonly { readonly middle: readonly [number, number] }[]): number[] =>
  found.map(({ middle }) => (Math.round(((Math.atan2(SHAFT[1] - middle[1], middle[0] - SHAFT[0]) / TURN) * 72 + 72) % 72) % 72) * 5).sort((a, b) => a - b)

describe('a second look round the ring (simulated)', () => {
  it('finds a stroke on half of the ring when short ones are wanted, and a slip across it never', () => {
    const strokes = [strokeAt(40), strokeAt(100, [93, 108]), { from: [20, 180] as const, to: [70, 180] as const, width: 1.6, dark: 60 }]
    const raster = drawRaster([300, 280], strokes, { blur: 0.9, noise: 2, seed: 3 })
    expect(bearings(lookAgain({ raster, map: MAP }, RING, [], { least: 0.4, short: false }))).toEqual([40])
    expect(bearings(lookAgain({ raster, map: MAP }, RING, [], { least: 0.4, short: true }))).toEqual([40, 100])
  })

  it('finds in a shadow what takes as great a share of the light', () => {
    const lit = (x: number): number => 90 + 120 / (1 + Math.exp((x - 150) / 8))
    // 60 of 210 grey levels in the light are 26 of 90 in the shadow: less than half as many.
    const raster = drawRaster([300, 280], [strokeAt(180), strokeAt(0, [93, 121], 22)], { ground: lit, blur: 0.9, noise: 1, seed: 4 })
    expect(bearings(lookAgain({ raster, map: MAP }, RING, [], { least: 0.4, short: false }))).toEqual([0, 180])
  })

  it('finds a faded stroke where the paper is quiet and bare, none where noise is as strong or along an edge', () => {
    const faded = strokeAt(100, [93, 121], 18)
    const onEdge = (x: number, y: number): number => (x < 150 && y > SHAFT[1] ? 198 : 210)
    const seen = (noise: number, ground: number | ((x: number, y: number) => number) = 210) =>
      bearings(lookAgain({ raster: drawRaster([300, 280], [strokeAt(40), faded], { ground, blur: 0.9, noise, seed: 5 }), map: MAP }, RING, [modelOf(strokeAt(40))], { least: 0.4, short: false }))
    expect(seen(1)).toEqual([100])
    expect(seen(1, onEdge)).toEqual([100])
    expect(seen(12)).toEqual([])
  })

  it('finds a faded line among known strokes on rough paper too, but no spots there, and nothing in their own ink', () => {
    const known = [40, 49, 58].map((bearing) => strokeAt(bearing))
    const seen = (more: readonly DrawnStroke[]) =>
      bearings(lookAgain({ raster: drawRaster([300, 280], [...known, ...more], { blur: 0.9, noise: 6, seed: 7 }), map: MAP }, RING, known.map(modelOf), { least: 0.4, short: false }))
    expect(seen([])).toEqual([])
    expect(seen([strokeAt(45, [93, 121], 22)])).toEqual([45])
    expect(seen([strokeAt(45, [93, 107], 33)])).toEqual([])
    expect(seen([strokeAt(40.6, [93, 121], 22)])).toEqual([])
  })

  it('goes on from the known marks as far as others follow, and takes nothing that stands by itself beyond', () => {
    const known = Array.from({ length: 12 }, (_, i) => strokeAt(10 * i + 5))
    const follow = Array.from({ length: 9 }, (_, i) => strokeAt(10 * i + 125))
    const raster = drawRaster([300, 280], [...known, ...follow, strokeAt(290)], { blur: 0.9, noise: 2, seed: 6 })
    const marks = known.map((s) => fittedMark({ model: modelOf(s), noise: 2, uOffset: 0.02, outliers: 0, clumping: 1, paper: 210 }, MAP, SHAFT))
    const ring = { ...RING, from: (-5 * TURN) / 360, span: (130 * TURN) / 360 }
    expect(bearings(lookFarther({ raster, map: MAP }, marks, ring, { least: 0.4, short: false }))).toEqual(follow.map((_, i) => 10 * i + 125))
  })
})
