import { greyAt } from '#core/detect/grey-at'
import { type PlaneMap, toPhoto } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { median } from '#core/numeric/median'
import { extremes } from '#core/numeric/moments'
import { fitRuler, type RulerFit, type SeenTick } from './ruler-map.ts'
import { sharedLength, type TickEnds, tickEnds } from './tick-ends.ts'

/** Heights, shares of a tick, at which its sides are looked at. */
const HEIGHTS = [0.22, 0.78] as const
/** Each over a band of this share of the tick. */
const BAND = 0.3
const ROWS = 7
const COLUMNS = 25
/** Grey levels by which a tick must be darker than what is beside it. */
const LEAST_DARK = 4
/** A tick this far from where it is due, steps, is none. */
const OFF = 0.3

interface Balance {
  readonly x: number
  readonly dark: number
}

/**
 * Where a tick's ink is balanced at one height: the centroid of darkness over one step of the ruler, window and centroid brought to
 * the same place. The neighbours lie alike to both sides, so they do not pull it.
 * @returns plane x, in steps; null where there is no dark line
 */
const balance = (raster: Raster, map: PlaneMap, [x, y]: readonly [number, number], halfBand: number): Balance | null => {
  let [at, dark] = [x, 0]
  for (let round = 0; round < 5; round++) {
    const profile = new Float64Array(COLUMNS)
    for (let row = 0; row < ROWS; row++) {
      const height = y + halfBand * ((2 * row) / (ROWS - 1) - 1)
      // One step is short: the photo shows it straight and even.
      const [[ax, ay], [bx, by]] = [toPhoto(map, [at - 0.5, height]), toPhoto(map, [at + 0.5, height])]
      for (let i = 0; i < COLUMNS; i++) {
        const share = (i + 0.5) / COLUMNS
        profile[i] = (profile[i] as number) + greyAt(raster, [ax + share * (bx - ax), ay + share * (by - ay)]) / ROWS
      }
    }
    const bright = Math.max(...profile)
    dark = bright - Math.min(...profile)
    if (!(dark > LEAST_DARK)) return null
    let [weight, moment] = [0, 0]
    profile.forEach((v, i) => {
      const ink = Math.max(0, bright - v - 0.15 * dark)
      weight += ink
      moment += ink * ((i + 0.5) / COLUMNS - 0.5)
    })
    const shift = moment / weight
    at += Math.max(-0.15, Math.min(0.15, 1.3 * shift))
    if (Math.abs(shift) < 1e-4) break
  }
  return Math.abs(at - x) < OFF ? { x: at, dark } : null
}

/** Where a tick is due, in the plane. */
interface Due {
  readonly index: number
  readonly ground: number
  readonly length: number
}

interface Measured {
  readonly tick: SeenTick
  readonly dark: number
}

/** Ticks' middle lines measured on the full photo, low and high on each: `foot` and `tip` are these two places. Null where one does not show. */
export const measuredTicks = (raster: Raster, map: PlaneMap, due: readonly Due[]): (Measured | null)[] =>
  due.map(({ index, ground, length }) => {
    const [a, b] = HEIGHTS.map((share) => balance(raster, map, [index, ground + share * length], (BAND / 2) * Math.abs(length)))
    if (!a || !b) return null
    const at = (x: number, share: number) => toPhoto(map, [x, ground + share * length])
    const [before, after] = [at(index - 0.5, HEIGHTS[0]), at(index + 0.5, HEIGHTS[0])]
    return { tick: { index, foot: at(a.x, HEIGHTS[0]), tip: at(b.x, HEIGHTS[1]), stepPx: Math.hypot(after[0] - before[0], after[1] - before[1]) }, dark: Math.min(a.dark, b.dark) }
  })

/** A part's map is trusted this share of its span beyond it, and a few steps. */
const BEYOND = 0.25
const LEAST_BEYOND = 4
const ROUNDS = 12
/** Beyond the ends a tick is as dark as this share of those before it; the ruler ends where so many in a row are not. */
const DARK = 0.35
const END = 6

/** As far as ticks go on, one after the other. */
const outward = (ticks: readonly (Measured | null)[], usual: number): SeenTick[] => {
  const found: SeenTick[] = []
  let missing = 0
  for (const seen of ticks) {
    if (missing === END) break
    missing = seen !== null && seen.dark > DARK * usual ? 0 : missing + 1
    if (seen !== null && missing === 0) found.push(seen.tick)
  }
  return found
}

const rangeOf = ({ ticks }: RulerFit): readonly [first: number, last: number] => extremes(ticks.map((t) => t.index))

/** So many tell where the next ones are as well as all do. */
const ENOUGH = 80

/** Some of many ticks, as far apart as all. */
const someOf = (ticks: readonly SeenTick[]): SeenTick[] => {
  const order = [...ticks].sort((a, b) => a.index - b.index)
  return order.filter((_, i) => i % Math.ceil(order.length / ENOUGH) === 0 || i === order.length - 1)
}

/** Whole numbers from one on, before the other. */
const upTo = (from: number, to: number): number[] => Array.from({ length: Math.abs(to - from) }, (_, i) => from + Math.sign(to - from) * i)

/**
 * All ticks of a ruler of which a part is known: its map says where the next ones are due, and they tell it farther on. Where hardly any
 * tick shows by itself, the part as it is.
 */
export const followTicks = (raster: Raster, part: RulerFit): RulerFit => {
  const look = ({ map }: RulerFit, { ground, lengths }: TickEnds, index: readonly number[]): (Measured | null)[] =>
    measuredTicks(raster, map, index.map((n) => ({ index: n, ground: ground(n), length: sharedLength(lengths) })))
  let [fit, ends] = [part, tickEnds(raster, part)]
  let [first, last] = rangeOf(part)
  const inner = ends === null ? [] : look(part, ends, upTo(first, last + 1)).flatMap((m) => m ?? [])
  if (inner.length < part.ticks.length / 2) return part
  const usual = median(inner.map((m) => m.dark))
  let ticks = inner.map((m) => m.tick)
  for (let round = 0; round < ROUNDS; round++) {
    const next = fitRuler(someOf(ticks), raster)
    ends = next === null ? null : tickEnds(raster, next)
    if (next === null || ends === null) break
    fit = next
    ;[first, last] = rangeOf(fit)
    const reach = Math.max(LEAST_BEYOND, Math.round(BEYOND * (last - first)))
    const more = [...outward(look(fit, ends, upTo(last + 1, last + 1 + reach)), usual), ...outward(look(fit, ends, upTo(first - 1, first - 1 - reach)), usual)]
    const known = new Set(ticks.map((t) => t.index))
    const fresh = more.filter((t) => !known.has(t.index))
    if (fresh.length === 0) break
    ticks = [...ticks, ...fresh]
  }
  return fitRuler(ticks, raster) ?? fit
}
