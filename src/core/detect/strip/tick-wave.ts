import { greyAt } from '#core/detect/grey-at'
import type { Point, Raster } from '#core/detect/raster'
import { rms } from '#core/numeric/moments'
import { fitGrid, type Grid } from './even-ticks.ts'
import { parabolaTop } from '#core/numeric/parabola-top'

/** A straight line in the photo: place is px along it from its origin, height px to its left. */
export interface Line {
  readonly origin: Point
  /** Unit vector. */
  readonly along: Point
}

export const onLine = ({ origin, along }: Line, place: number, height: number): Point =>
  [origin[0] + place * along[0] - height * along[1], origin[1] + place * along[1] + height * along[0]]

/** Ticks too fine to be seen one by one, as a wave of brightness along a band beside a line. */
export interface TickWave {
  readonly line: Line
  /** Height of the band's middle at a place. */
  readonly height: (place: number) => number
  /** Ticks passed up to a place: whole numbers where it is darkest. */
  readonly phase: Grid
  readonly from: number
  readonly to: number
}

/** A stretch that is looked at by itself, px, and how far the next one begins after it. */
const WINDOW = 96
const HOP = 48
/** Heights looked at lie so far apart, px, each the mean of so many rows. */
const RISE = 3
/** Steps between ticks that are looked for, px: finer ones blur into grey, wider ones are seen one by one. */
const STEPS_PX = [2.3, 14] as const
/** Share of a stretch's contrast that a wave must hold (1: nothing else is there). */
const CLEAR = 0.3
const FAINT = 0.12
/** Grey levels that such a wave must rise and fall by at least. */
const LEAST_CONTRAST = 2
/** So near to the chain's line, px, and to its frequency, relative, a wave belongs to it. */
const OFF_LINE = 6
const OFF_FREQUENCY = 0.04
const LEAST_WINDOWS = 4
/** A band rises against the row by no more than this (a ruler laid beside it by eye). */
const STEEPEST = 0.12
/** Even ticks keep their places to this share of a step. */
const UNEVEN = 0.06

const bell = Float64Array.from({ length: WINDOW }, (_, i) => Math.sin((Math.PI * (i + 0.5)) / WINDOW) ** 2)
const bellSum = bell.reduce((sum, w) => sum + w, 0)

const frequencies = Array.from({ length: Math.floor((1 / STEPS_PX[0] - 1 / STEPS_PX[1]) * WINDOW) + 1 }, (_, i) => 1 / STEPS_PX[1] + i / WINDOW)
const turns = frequencies.map((f) => ({ cos: Float64Array.from({ length: WINDOW }, (_, i) => Math.cos(2 * Math.PI * f * i)), sin: Float64Array.from({ length: WINDOW }, (_, i) => Math.sin(2 * Math.PI * f * i)) }))

/** The stretch without its slope and mean, weighed towards its middle. */
const levelled = (values: Float64Array): Float64Array => {
  const mid = (WINDOW - 1) / 2
  let [mean, slope, square] = [0, 0, 0]
  for (let i = 0; i < WINDOW; i++) mean += ((bell[i] as number) * (values[i] as number)) / bellSum
  for (let i = 0; i < WINDOW; i++) {
    slope += (bell[i] as number) * (i - mid) * (values[i] as number)
    square += (bell[i] as number) * (i - mid) ** 2
  }
  return values.map((v, i) => v - mean - (slope / square) * (i - mid))
}

interface Peak {
  readonly place: number
  readonly height: number
  readonly frequency: number
}

/** The strongest wave of a stretch; null where none is clear. */
const strongest = (stretch: Float64Array): number | null => {
  const level = levelled(stretch)
  let energy = 0
  for (let i = 0; i < WINDOW; i++) energy += (bell[i] as number) * (level[i] as number) ** 2
  if (!(energy > (bellSum * LEAST_CONTRAST ** 2) / 2)) return null
  const weighed = level.map((v, i) => v * (bell[i] as number))
  const power = turns.map(({ cos, sin }) => {
    let [re, im] = [0, 0]
    for (let i = 0; i < WINDOW; i++) {
      re += (weighed[i] as number) * (cos[i] as number)
      im += (weighed[i] as number) * (sin[i] as number)
    }
    return re * re + im * im
  })
  let best = 1
  for (let k = 1; k < power.length - 1; k++) if ((power[k] as number) > (power[best] as number)) best = k
  const [before, top, after] = [power[best - 1] ?? 0, power[best] as number, power[best + 1] ?? 0]
  if ((2 * top) / (bellSum * energy) < CLEAR || before > top || after > top) return null
  return (frequencies[best] as number) + parabolaTop(before, top, after) / WINDOW
}

/** Waves in all stretches of the band between two heights. */
const peaksIn = (raster: Raster, line: Line, [from, to]: readonly [number, number], [low, high]: readonly [number, number]): Peak[] => {
  const peaks: Peak[] = []
  for (let height = low; height <= high; height += RISE) {
    const row = Float64Array.from({ length: Math.max(0, Math.floor(to - from)) }, (_, i) => (greyAt(raster, onLine(line, from + i, height - 0.5)) + greyAt(raster, onLine(line, from + i, height + 0.5))) / 2)
    for (let start = 0; start + WINDOW <= row.length; start += HOP) {
      const stretch = row.subarray(start, start + WINDOW)
      const frequency = Number.isFinite((stretch[0] as number) + (stretch[WINDOW - 1] as number)) ? strongest(stretch) : null
      if (frequency !== null) peaks.push({ place: from + start + (WINDOW - 1) / 2, height, frequency })
    }
  }
  return peaks
}

interface Chain {
  readonly height: (place: number) => number
  readonly frequency: (place: number) => number
  readonly peaks: readonly Peak[]
}

const placesOf = ({ peaks }: Pick<Chain, 'peaks'>): number[] => [...new Set(peaks.map((p) => p.place))].sort((p, q) => p - q)

const through = (a: Peak, b: Peak, of: 'height' | 'frequency'): ((place: number) => number) => (place) => a[of] + ((b[of] - a[of]) * (place - a.place)) / (b.place - a.place)

/** The straight band with the most stretches of one wave, whose frequency changes evenly along it; null when it has few. */
const longestChain = (peaks: readonly Peak[]): Chain | null => {
  const step = Math.max(1, Math.floor(peaks.length / 120))
  let [best, most]: [Chain | null, number] = [null, 0]
  for (let i = 0; i < peaks.length; i += step) {
    for (let j = 0; j < peaks.length; j += step) {
      const [a, b] = [peaks[i] as Peak, peaks[j] as Peak]
      if (b.place - a.place < 3 * HOP || Math.abs(b.height - a.height) > STEEPEST * (b.place - a.place)) continue
      const [height, frequency] = [through(a, b, 'height'), through(a, b, 'frequency')]
      const on = peaks.filter((p) => Math.abs(p.height - height(p.place)) < OFF_LINE && Math.abs(p.frequency / frequency(p.place) - 1) < OFF_FREQUENCY)
      // Among bands with as many stretches the one in whose middle more rows show them.
      const worth = placesOf({ peaks: on }).length + 1e-3 * on.length
      if (worth <= most) continue
      const middle = on.reduce((sum, p) => sum + (p.height - height(p.place)) / on.length, 0)
      most = worth
      best = { height: (place) => height(place) + middle, frequency, peaks: on }
    }
  }
  return best !== null && placesOf(best).length >= LEAST_WINDOWS ? best : null
}

/** Rows that are looked at together: how far above the band's middle, and how far ticks lean there, px along the line per px of rise. */
interface Rows {
  readonly rises: readonly number[]
  readonly lean: number
}

const MIDDLE: Rows = { rises: [-1, 0, 1], lean: 0 }

/** How far the wave is ahead of a phase about a place, in ticks, and its share of the contrast. */
const ahead = (raster: Raster, line: Line, place: number, { height, phase }: Pick<TickWave, 'height' | 'phase'>, { rises, lean } = MIDDLE): { readonly by: number; readonly share: number } => {
  const start = place - (WINDOW - 1) / 2
  const level = levelled(Float64Array.from({ length: WINDOW }, (_, i) => rises.reduce((sum, up) => sum + greyAt(raster, onLine(line, start + i + lean * up, height(start + i) + up)) / rises.length, 0)))
  let [re, im, energy] = [0, 0, 0]
  for (let i = 0; i < WINDOW; i++) {
    const [value, turn] = [(bell[i] as number) * (level[i] as number), 2 * Math.PI * phase(start + i)]
    re -= value * Math.cos(turn)
    im += value * Math.sin(turn)
    energy += value * (level[i] as number)
  }
  return { by: Math.atan2(im, re) / (2 * Math.PI), share: (2 * (re * re + im * im)) / (bellSum * energy) }
}

/** Follows the wave from stretch to stretch and fits even ticks in perspective to its phase. */
const followed = (raster: Raster, line: Line, chain: Chain, [from, to]: readonly [number, number]): TickWave | null => {
  const seen = placesOf(chain)
  const [first] = seen as [number]
  const slope = chain.frequency(first + 1) - chain.frequency(first)
  const about = (place: number): number => chain.frequency(first) * (place - first) + (slope * (place - first) ** 2) / 2
  let [phase, places]: [Grid, readonly number[]] = [about, seen]
  for (let round = 0; round < 3; round++) {
    const known: { readonly place: number; readonly phase: number }[] = []
    let drift = 0
    for (const place of places) {
      const { by, share } = ahead(raster, line, place, { height: chain.height, phase })
      if (!(share > FAINT)) continue
      drift = by - Math.round(by - drift)
      known.push({ place, phase: phase(place) + drift })
    }
    const [middle, half] = [(from + to) / 2, (to - from) / 2]
    if (known.length < LEAST_WINDOWS) return null
    const grid = fitGrid(known.map(({ place }) => (place - middle) / half), known.map((k) => k.phase), known.length >= 8)
    if (grid === null) return null
    phase = (place) => grid((place - middle) / half)
    if (rms(known.map((k) => k.phase - phase(k.place))) > UNEVEN) return null
    const [low, high] = [(known[0] as { place: number }).place, (known[known.length - 1] as { place: number }).place]
    if (round === 2) return { line, height: chain.height, phase, from: low - HOP / 2, to: high + HOP / 2 }
    // Neighbouring stretches, too, as far as the band goes on.
    places = Array.from({ length: Math.floor((high - low) / HOP) + 5 }, (_, i) => low + (i - 2) * HOP).filter((place) => place > from + HOP && place < to - HOP)
  }
  return null
}

/** Waves that squares, cloth and the marks themselves make are among the clearest few. */
const MOST_WAVES = 4

/**
 * The waves that fine even scales make in the photo, though their ticks be no more than three px apart; the longest first.
 * @param line near the scale and nearly along it
 * @param places between which they are looked for, and bands of heights, px
 */
export const tickWaves = (raster: Raster, line: Line, places: readonly [number, number], bands: readonly (readonly [number, number])[]): TickWave[] => {
  let peaks: readonly Peak[] = bands.flatMap((band) => peaksIn(raster, line, places, band))
  const waves: TickWave[] = []
  for (let n = 0; n < MOST_WAVES; n++) {
    const chain = longestChain(peaks)
    if (chain === null) break
    const wave = followed(raster, line, chain, places)
    if (wave !== null) waves.push(wave)
    peaks = peaks.filter((p) => !chain.peaks.includes(p))
  }
  return waves
}

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
