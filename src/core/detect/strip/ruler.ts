import type { Candidate } from '#core/detect/line/candidate'
import { type PlaneMap, planeMap, toPlane } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { composeHomographies } from '#core/numeric/homography'
import { median } from '#core/numeric/median'
import { extremes, rms } from '#core/numeric/moments'
import { followTicks, measuredTicks } from './follow-ticks.ts'
import { fitRuler, type RulerFit, type SeenTick } from './ruler-map.ts'
import { sharedLength, type TickEnds, tickEnds } from './tick-ends.ts'
import { divided } from './divided.ts'
import { isScale, longestOf, type TickLengths, tickLengths } from './tick-lengths.ts'

type Line = Pick<Candidate, 'p0' | 'p1'>

/** A ruler seen beside the marks. */
export interface Ruler extends RulerFit {
  readonly lengths: TickLengths
  /** Two places on each tick that its map was told by. */
  readonly measured: readonly SeenTick[]
  /** Departure from an even grid, steps. */
  readonly spread: number
  /** rms of the ticks' feet about their line, share of a tick. */
  readonly scatter: number
  /** Is a candidate one of its ticks, or written on it beyond them? */
  readonly owns: (line: Line) => boolean
  /** Does a candidate stand on the line of its ticks, be it beyond their ends? */
  readonly inLine: (line: Line) => boolean
  /** Does a line lie beyond the ends of its ticks, where its numbers and its maker's words are? */
  readonly isBeyond: (line: Line) => boolean
  /** May a candidate be a mark that it was laid beside: across it, short and near as compared with its own length? */
  readonly isBeside: (line: Line) => boolean
}

/** Marks are no longer than this share of what is seen of it, and their row no farther from it (of 8 cm: 1.6 and 4; common practice, no source). */
const MOST_STROKE = 0.2
const MOST_AWAY = 0.5
/** Numbers are written within this many times the longest tick beyond the line. */
const NUMBERS = 2.4

const reachOf = ({ map, ticks }: RulerFit, lengths: readonly number[]): Pick<Ruler, 'owns' | 'inLine' | 'isBeyond' | 'isBeside'> => {
  const [usual, longest] = [median(lengths.map(Math.abs)), longestOf(lengths)]
  const side = Math.sign(median(lengths)) || 1
  const [first, last] = extremes(ticks.map((t) => t.index))
  const heights = ({ p0, p1 }: Line): number[] => [p0, p1].map((p) => side * toPlane(map, p)[1]).sort((a, b) => a - b)
  return {
    owns: (line) => {
      const [near, far] = heights(line) as [number, number]
      const x = (toPlane(map, line.p0)[0] + toPlane(map, line.p1)[0]) / 2
      return x > first - longest && x < last + longest && near > -0.35 * usual && far < NUMBERS * longest
    },
    inLine: (line) => {
      const [near, far] = heights(line) as [number, number]
      return near > -usual / 2 && near < usual / 2 && far > usual / 2 && far < 1.5 * longest
    },
    isBeyond: (line) => (heights(line)[0] as number) > usual,
    isBeside: ({ p0, p1 }) => {
      const [a, b] = [toPlane(map, p0), toPlane(map, p1)]
      const [along, across] = [Math.abs(b[0] - a[0]), Math.abs(b[1] - a[1])]
      return across > along && across < MOST_STROKE * (last - first) && Math.abs(a[1] + b[1]) < 2 * MOST_AWAY * (last - first)
    },
  }
}

/** Motors place their full steps to some 3 to 5 % of a step (common practice, no source); print is seen even to this. */
const PRINT = 0.015

/** Is an even row print by its lengths, or because no motor and no hand is so even? */
export const isPrinted = ({ lengths, spread }: Ruler): boolean => isScale(lengths) || spread < PRINT

/** The fit with its heights counted from where some ticks stand, and these for its own. */
export const standing = (fit: RulerFit, ticks: readonly SeenTick[]): RulerFit => {
  const raised = (map: PlaneMap): PlaneMap => planeMap(composeHomographies([1, 0, 0, 0, 1, -median(ticks.map((t) => toPlane(map, t.foot)[1])), 0, 0, 1], map.homography), map.radial)
  return { ...fit, map: raised(fit.map), alternatives: fit.alternatives.map(raised), ticks }
}

/** Fewer ticks are told from strokes by chance too badly. */
const LEAST_TICKS = 20
/** Print is more even than this, in steps, where it is seen so closely (motors place their full steps to some 3 to 5 %; common practice, no source); a tick's place is seen to so many px. */
const PRINTED = 0.03
const SEEN_PX = 0.7
/** A tick this many times as long as most is one of a ruler's longer ones, and a few of them tell its map where most ticks are too fine. */
const LONGER = 1.25
const LEAST_LONG = 8
/** Share of the ticks whose ink must show by itself, for the map to be told by all. */
const MOST = 0.7

/** The map told by each tick's own ink, at two heights as far apart as the tick is long; by the longer ones' where most are too fine to show it. */
const closely = (raster: Raster, fit: RulerFit, { ground, lengths }: TickEnds): RulerFit | null => {
  const [usual, shared] = [median(lengths), sharedLength(lengths)]
  const measured = measuredTicks(raster, fit.map, fit.ticks.map((tick, i) => ({ index: tick.index, ground: ground(tick.index), length: Math.max(1, (lengths[i] as number) / shared) * shared })))
  const seen = measured.flatMap((m, i) => (m === null ? [] : [{ tick: m.tick, long: (lengths[i] as number) / usual > LONGER }]))
  const told = seen.length >= MOST * fit.ticks.length ? seen : seen.filter((s) => s.long)
  return told.length < LEAST_LONG ? null : fitRuler(told.map((s) => s.tick), raster)
}

/**
 * A ruler from a part of it that was seen: its ticks followed as far as they go, their ends, and what one of them is.
 * @returns null where they are too few or less even than print
 */
export const rulerFrom = (raster: Raster, part: RulerFit): Ruler | null => {
  const first = divided(raster, part)
  const whole = followTicks(raster, first)
  const ends = tickEnds(raster, whole)
  if (ends === null || whole.ticks.length < LEAST_TICKS) return null
  const fit = closely(raster, whole, ends)
  if (fit === null) return null
  const spread = unevenness(fit)
  if (spread > Math.max(PRINTED, SEEN_PX / median(fit.ticks.map((t) => t.stepPx)))) return null
  const seen = standing(fit, ends.ticks)
  return { ...seen, measured: fit.ticks, lengths: tickLengths(ends.lengths.map(Math.abs), ends.ticks.map((t) => t.index)), spread, scatter: ends.scatter, ...reachOf(seen, ends.lengths) }
}

/** rms departure of a ruler's ticks from their places, steps. */
const unevenness = ({ map, ticks }: RulerFit): number => rms(ticks.map(({ foot, index }) => toPlane(map, foot)[0] - index))
