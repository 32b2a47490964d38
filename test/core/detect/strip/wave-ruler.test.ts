import { describe, expect, it } from 'vitest'
import { toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { tickWaves } from '#core/detect/strip/tick-wave'
import { waveRuler } from '#core/detect/strip/wave-ruler'
import { type DrawnStroke, drawRaster } from '../draw-raster.ts'

/** Seen aslant: x of the n-th tick, some 3.6 px from the next at the left and 2.9 at the right. */
const placeOf = (n: number): number => 20 + (3.6 * n) / (1 + 0.0006 * n)

/** Lengths in steps: every fifth tick longer, every tenth longest, as on millimetre rulers (common practice, no source). */
const likeRuler = (n: number): number => (n % 10 === 0 ? 7 : n % 5 === 0 ? 5 : 3)

/** How far a tick runs to the right for each px up: all alike, as a ruler's are. */
const LEAN = 0.15

const ticks = (lengthOf: (n: number) => number, count = 200): DrawnStroke[] =>
  Array.from({ length: count }, (_, n) => ({ from: [placeOf(n), 90] as const, to: [placeOf(n) + LEAN * 3.3 * lengthOf(n), 90 - 3.3 * lengthOf(n)] as const, width: 0.8, dark: 150 }))

const pictureOf = (strokes: readonly DrawnStroke[]) => drawRaster([700, 180], strokes, { blur: 0.9, noise: 2, seed: 4 })

const line = { origin: [20, 30] as const, along: [1, 0] as const }
const rulersIn = (strokes: readonly DrawnStroke[]) => {
  const raster = pictureOf(strokes)
  return tickWaves(raster, line, [-10, 650], [[20, 100]]).flatMap((wave) => waveRuler(raster, wave) ?? [])
}

describe('a ruler whose ticks are some three px apart', () => {
  const [ruler] = rulersIn(ticks(likeRuler))

  it('is one of millimetres, by the lengths of its ticks', () => {
    expect(ruler?.lengths).toMatchObject({ period: 10, tickMm: 1 })
  })

  it('measures: ticks 150 apart are 150 steps apart in its plane', () => {
    const at = (n: number): Point => [placeOf(n) + 2 * LEAN, 88]
    const [a, b] = [25, 175].map((n) => (ruler === undefined ? Number.NaN : toPlane(ruler.map, at(n))[0])) as [number, number]
    // A hundredth of a tick: each of some 190 is placed to about a tenth of a px.
    expect(Math.abs(Math.abs(b - a) - 150)).toBeLessThan(0.02)
  })
})

describe('a fine ruler seen aslant', () => {
  const aim: Point = [350, -1500]
  /** So far from the n-th tick's foot, px, on the line that its ink lies on. */
  const beyond = (n: number, rise: number): Point => {
    const [dx, dy] = [aim[0] - placeOf(n), aim[1] - 90]
    const length = Math.hypot(dx, dy)
    return [placeOf(n) + (rise * dx) / length, 90 + (rise * dy) / length]
  }
  const [ruler] = rulersIn(Array.from({ length: 200 }, (_, n) => ({ from: beyond(n, 0), to: beyond(n, 3.3 * likeRuler(n)), width: 0.8, dark: 150 })))

  it('measures marks that lie 60 px beside it, by how its ticks lean', () => {
    const [a, b] = [25, 175].map((n) => (ruler === undefined ? Number.NaN : toPlane(ruler.map, beyond(n, -60))[0])) as [number, number]
    // Ticks some 20 px high tell their direction to a few tenths of a degree in all: 60 px away 0.2 % of 150.
    expect(Math.abs(Math.abs(b - a) - 150)).toBeLessThan(0.3)
  })
})

describe('other fine waves', () => {
  it('are no ruler: strokes of one length tell no unit', () => {
    expect(rulersIn(ticks(() => 4))).toEqual([])
  })

  it('are no ruler: strokes as uneven as marks, a third of a step', () => {
    const shaken = ticks(likeRuler).map(({ from, to, ...rest }, i) => {
      const off = 1.2 * Math.sin(7.3 * i + (i % 13))
      return { ...rest, from: [from[0] + off, from[1]] as const, to: [to[0] + off, to[1]] as const }
    })
    expect(rulersIn(shaken)).toEqual([])
  })

  it('are none on bare paper', () => {
    expect(rulersIn([])).toEqual([])
  })
})
