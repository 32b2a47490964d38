import type { Raster } from '#core/detect/raster'
import type { SeenTick } from './ruler-map.ts'
import { ahead, FAINT, HOP, onLine, type TickWave } from './tick-wave.ts'

/** Where the n-th tick is: the phase grows along the line. */
export const placeOf = ({ phase, from, to }: TickWave, n: number): number => {
  let [low, high] = phase(to) > phase(from) ? [from, to] : [to, from]
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2
    if (phase(middle) < n) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** How far ticks reach below and above the band's middle, px, and how they lean at a place. */
export interface Shape {
  readonly down: number
  readonly up: number
  readonly lean: (place: number) => number
}

/** Ticks told by the wave's phase over a stretch each, below and above the band's middle: what they say is independent from stretch to stretch, as the ticks' own outlines are not. */
export const sightTicks = (raster: Raster, wave: TickWave, { down, up, lean }: Shape): SeenTick[] => {
  const half = (up + down) / 4
  const rows = Math.max(2, Math.round(2 * half))
  return Array.from({ length: Math.max(0, Math.floor((wave.to - wave.from) / HOP)) }, (_, i) => placeOf(wave, Math.round(wave.phase(wave.from + (i + 0.5) * HOP)))).flatMap((place) => {
    const step = 1 / (wave.phase(place + 0.5) - wave.phase(place - 0.5))
    const ends = [half - down, up - half].map((rise) => {
      const { by, share } = ahead(raster, wave.line, place, wave, { rises: Array.from({ length: rows }, (_, k) => rise + half * ((2 * k + 1) / rows - 1)), lean: lean(place) })
      return share > FAINT ? onLine(wave.line, place + lean(place) * rise - by * step, wave.height(place) + rise) : null
    })
    const [foot, tip] = ends
    return foot && tip ? [{ index: Math.round(wave.phase(place)), foot, tip, stepPx: Math.abs(step) }] : []
  })
}
