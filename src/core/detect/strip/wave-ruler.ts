import { greyAt } from '#core/detect/grey-at'
import type { Raster } from '#core/detect/raster'
import { mean } from '#core/numeric/moments'
import { median, medianOrZero, quantile } from '#core/numeric/median'
import { measureTicks } from './measure-ticks.ts'
import { fitRuler, type RulerFit, type SeenTick, tickLengthsOf } from './ruler-map.ts'
import { isMost, lengthsOf, type Ruler, rulerOf } from './find-ruler.ts'
import { onLine, type TickWave, tickWaves } from './tick-wave.ts'
import { placeOf, type Shape, sightTicks } from './sight-ticks.ts'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import type { StripMark } from './strip-marks.ts'

/** A row of ticks is no higher than this many steps. */
const HIGHEST = 12
/** A tick goes on where it is as dark as this share of the usual one. */
const ENDS = 0.45
const LEAST_TICKS = 30
/** Light and sharpness change along a ruler: so many ticks to either side tell how dark one is. */
const NEAR = 8

interface Tick {
  readonly index: number
  readonly place: number
  readonly step: number
}

/** How much darker a tick is than halfway to its neighbours, at a rise above the band's middle; grey levels. @param lean px along the line per px of rise */
const darkness = (raster: Raster, wave: TickWave, { place, step }: Tick, rise: number, lean: number): number => {
  const at = (off: number): number => greyAt(raster, onLine(wave.line, place + off + lean * rise, wave.height(place) + rise))
  return (at(step / 2) + at(-step / 2)) / 2 - at(0)
}

/** The ticks that lie in the picture. */
const ticksOf = (raster: Raster, wave: TickWave): Tick[] => {
  const ends = [wave.phase(wave.from), wave.phase(wave.to)]
  const [first, last] = [Math.ceil(Math.min(...ends)), Math.floor(Math.max(...ends))]
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const place = placeOf(wave, first + i)
    return { index: first + i, place, step: 1 / Math.abs(wave.phase(place + 0.5) - wave.phase(place - 0.5)) }
  }).filter((tick) => Number.isFinite(darkness(raster, wave, tick, 0, 0)))
}

/** How far ticks lean from upright to the line, px per px: with the right lean the band is darkest as a whole. */
const leanOf = (raster: Raster, wave: TickWave, ticks: readonly Tick[], reach: number): number => {
  const some = ticks.filter((_, i) => i % Math.ceil(ticks.length / 60) === 0)
  const rises = [-0.6, -0.3, 0.3, 0.6].map((share) => share * reach)
  const worth = (lean: number): number => mean(some.flatMap((tick) => rises.map((rise) => Math.max(0, darkness(raster, wave, tick, rise, lean)))))
  return Array.from({ length: 41 }, (_, i) => (i - 20) * 0.02).reduce((best, lean) => (worth(lean) > worth(best) ? lean : best), 0)
}

/** The lean changes evenly along the line: ticks are parallel, but seen in perspective. */
const leansOf = (raster: Raster, wave: TickWave, ticks: readonly Tick[], reach: number): ((place: number) => number) => {
  const half = ticks.length >> 1
  const [a, b] = [ticks.slice(0, half), ticks.slice(half)].map((some) => ({ place: mean(some.map((t) => t.place)), lean: leanOf(raster, wave, some, reach) })) as [{ place: number; lean: number }, { place: number; lean: number }]
  return (place) => a.lean + ((b.lean - a.lean) * (place - a.place)) / (b.place - a.place)
}

/** How far ticks reach to one side of a rise: as long as they stay dark, in half px. */
const reachOf = (dark: (rise: number) => number, from: number, way: 1 | -1, most: number, least: number): number => {
  let reach = 0
  while (reach < most && (dark(from + way * (reach + 0.5)) + dark(from + way * (reach + 1))) / 2 > least) reach += 0.5
  return reach
}

/** A tick reaches this many times as high as most where it is one of a ruler's longer ones, and a few of them tell its map. */
const LONGER = 1.25
const LEAST_LONG = 8

/**
 * The map told closely: by the ticks' own ink; where most show none, by that of the longer ones, which stand apart and reach far across.
 * The wave's phase tells where they are; by itself it tells their lean too badly to measure by (0.3 and 0.5 mm rms where 0.1 and 0.2 were said).
 * @param rough the fit to the ticks' outlines, whose leans are one guess for all of them
 * @returns null where few ticks show their ink
 */
const closely = (raster: Raster, wave: TickWave, shape: Shape, rough: RulerFit): RulerFit | null => {
  const byPhase = fitRuler(sightTicks(raster, wave, shape), raster)
  if (byPhase === null) return null
  const start = { ...byPhase, ticks: rough.ticks }
  const ticks = measureTicks(raster, start)
  const lengths = tickLengthsOf({ ...start, ticks })
  const long = ticks.filter((_, i) => (lengths[i] as number) / median(lengths) > LONGER)
  const told = isMost(ticks, rough.ticks) ? ticks : long
  return told.length < LEAST_LONG ? null : fitRuler(told, raster)
}

/**
 * A ruler whose ticks were seen as a wave only: each tick's darkness looked at where the wave has it.
 * @returns null where the ticks' lengths do not tell what one is
 */
export const waveRuler = (raster: Raster, wave: TickWave): Ruler | null => {
  const ticks = ticksOf(raster, wave)
  if (ticks.length < LEAST_TICKS) return null
  const most = HIGHEST * median(ticks.map((t) => t.step))
  const lean = leansOf(raster, wave, ticks, median(ticks.map((t) => t.step)))
  const usual = (rise: number): number => mean(ticks.map((tick) => darkness(raster, wave, tick, rise, lean(tick.place))))
  const least = ENDS * usual(0)
  const [up, down] = [reachOf(usual, 0, 1, most, least), reachOf(usual, 0, -1, most, least)]
  const dark = ticks.map((tick) => darkness(raster, wave, tick, 0, 0))
  const beyond = (tick: Tick, i: number, way: 1 | -1): number =>
    reachOf((rise) => darkness(raster, wave, tick, rise, lean(tick.place)), way === 1 ? up : -down, way, most, ENDS * mean(dark.slice(Math.max(0, i - NEAR), i + NEAR + 1)))
  const [above, below] = ([1, -1] as const).map((way) => ticks.map((tick, i) => beyond(tick, i, way))) as [number[], number[]]
  // Longer ticks reach farther at their free ends; the others stand on one line.
  const way = quantile(above, 0.9) >= quantile(below, 0.9) ? 1 : -1
  const longer = way === 1 ? above : below
  const [foot, tip] = way === 1 ? [-down, up] : [up, -down]
  const seen = ticks.map(({ index, place, step }, i): SeenTick => {
    const end = tip + way * (longer[i] as number)
    const at = (rise: number) => onLine(wave.line, place + lean(place) * rise, wave.height(place) + rise)
    return { index, foot: at(foot), tip: at(end), stepPx: step }
  })
  const fit = fitRuler(seen, raster)
  // Most waves are no ruler's: that is told before its ticks are measured closely.
  if (fit === null || lengthsOf(fit).tickMm === null) return null
  const finer = closely(raster, wave, { down, up, lean }, fit)
  return finer === null ? null : rulerOf(fit, 0, finer)
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
  const rulers = tickWaves(raster, line, places, [[-BESIDE * half, -half], [half, BESIDE * half]]).flatMap((wave) => waveRuler(raster, wave) ?? [])
  return rulers.sort((a, b) => b.ticks.length - a.ticks.length)[0] ?? null
}
