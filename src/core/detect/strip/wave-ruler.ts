import { inPicture, type Point, type Raster } from '#core/detect/raster'
import { medianOrZero } from '#core/numeric/median'
import { fitRuler, type SeenTick } from './ruler-map.ts'
import { type Ruler, rulerFrom } from './ruler.ts'
import { isScale } from './tick-lengths.ts'
import { onLine, placeOf, type TickWave, tickWaves } from './tick-wave.ts'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import type { StripMark } from './strip-marks.ts'

const LEAST_TICKS = 30

interface Tick {
  readonly index: number
  readonly place: number
  readonly step: number
}

/** The ticks that lie in the picture. */
const ticksOf = (raster: Raster, wave: TickWave): Tick[] => {
  const ends = [wave.phase(wave.from), wave.phase(wave.to)]
  const [first, last] = [Math.ceil(Math.min(...ends)), Math.floor(Math.max(...ends))]
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const place = placeOf(wave, first + i)
    return { index: first + i, place, step: 1 / Math.abs(wave.phase(place + 0.5) - wave.phase(place - 0.5)) }
  }).filter(({ place }) => inPicture(raster, onLine(wave.line, place, wave.height(place))))
}

/**
 * A ruler whose ticks were seen as a wave only.
 * @returns null where the ticks' lengths do not tell what one is
 */
export const waveRuler = (raster: Raster, wave: TickWave): Ruler | null => {
  const ticks = ticksOf(raster, wave)
  if (ticks.length < LEAST_TICKS) return null
  const at = (place: number, rise: number): Point => onLine(wave.line, place, wave.height(place) + rise)
  const fit = fitRuler(ticks.map(({ index, place, step }): SeenTick => ({ index, foot: at(place, -step / 2), tip: at(place, step / 2), stepPx: step })), raster)
  const ruler = fit === null ? null : rulerFrom(raster, fit)
  return ruler === null || !isScale(ruler.lengths) ? null : ruler
}

/** So far beyond the row, in shares of its length, and beside it, in half lengths of its marks, a ruler is looked for. */
const FARTHER = 0.25
const BESIDE = 8

/** A ruler too fine to have its ticks seen one by one, near a row of marks: the one with the most ticks; null where there is none. */
export const rulerBeside = (raster: Raster, marks: readonly StripMark[]): Ruler | null => {
  const ends = marks.map(({ fit: { model } }) => centreLineAt(model, 0)).sort((p, q) => p[0] - q[0] || p[1] - q[1])
  const [first, last] = [ends[0], ends[ends.length - 1]]
  if (first === undefined || last === undefined || first === last) return null
  const length = Math.hypot(last[0] - first[0], last[1] - first[1])
  const half = medianOrZero(marks.map(({ fit: { model } }) => model.halfLength))
  const line = { origin: first, along: [(last[0] - first[0]) / length, (last[1] - first[1]) / length] as const }
  const places = [-FARTHER * length, (1 + FARTHER) * length] as const
  const rulers = tickWaves(raster, line, places, [[-BESIDE * half, BESIDE * half]]).flatMap((wave) => waveRuler(raster, wave) ?? [])
  return rulers.sort((a, b) => b.ticks.length - a.ticks.length)[0] ?? null
}
