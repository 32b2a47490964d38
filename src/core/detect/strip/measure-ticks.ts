import { greyAt } from '#core/detect/grey-at'
import { type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import { median } from '#core/numeric/median'
import type { Point, Raster } from '#core/detect/raster'
import type { RulerFit, SeenTick } from './ruler-map.ts'

/** Heights, shares of a tick, at which its sides are looked at. */
const LOW = 0.22
const HIGH = 0.78
/** Each over a band of this share of the tick. */
const BAND = 0.3
const ROWS = 7
const COLUMNS = 25
/** Grey levels by which a tick must be darker than what is beside it. */
const LEAST_DARK = 4

/**
 * Where a tick's ink is balanced at one height: the centroid of darkness over one step of the ruler, window and centroid brought to
 * the same place. The neighbours lie alike to both sides, so they do not pull it.
 * @returns plane x, in steps; null where there is no dark line
 */
const balance = (raster: Raster, map: PlaneMap, [x, y]: Point, halfBand: number): number | null => {
  let at = x
  for (let round = 0; round < 5; round++) {
    const profile = new Float64Array(COLUMNS)
    for (let row = 0; row < ROWS; row++) {
      const height = y + halfBand * ((2 * row) / (ROWS - 1) - 1)
      for (let i = 0; i < COLUMNS; i++) profile[i] = (profile[i] as number) + greyAt(raster, toPhoto(map, [at + (i + 0.5) / COLUMNS - 0.5, height])) / ROWS
    }
    const bright = Math.max(...profile)
    const dark = bright - Math.min(...profile)
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
  return Math.abs(at - x) < 0.3 ? at : null
}

/**
 * Each tick's middle line measured again on the full photo, low and high on the tick.
 * @param fit the map from the ticks' coarse outlines: good to a fifth of a step
 * @returns the ticks that show at both heights; `foot` and `tip` are the two places measured
 */
export const measureTicks = (raster: Raster, { map, ticks }: RulerFit): SeenTick[] => {
  const heights = ticks.map(({ foot, tip }) => [toPlane(map, foot)[1], toPlane(map, tip)[1]] as const)
  const [ground, usual] = [median(heights.map((h) => h[0])), median(heights.map((h) => h[1] - h[0]))]
  return ticks.flatMap((tick, i) => {
    const own = (heights[i] as readonly [number, number])[1] - ground
    const [low, high] = [ground + LOW * usual, ground + (own / usual > 0.7 ? HIGH * own : HIGH * usual)]
    const x = toPlane(map, tick.foot)[0]
    const places = [low, high].map((y) => balance(raster, map, [x, y], (BAND / 2) * Math.abs(usual)))
    const [a, b] = places
    if (a === null || b === null || a === undefined || b === undefined) return []
    const [foot, tip] = [toPhoto(map, [a, low]), toPhoto(map, [b, high])]
    return [{ index: tick.index, foot, tip, stepPx: tick.stepPx }]
  })
}
