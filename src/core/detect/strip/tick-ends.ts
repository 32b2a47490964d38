import { greyAt } from '#core/detect/grey-at'
import { type PlaneMap, toPhoto, toPlane } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { median, quantile } from '#core/numeric/median'
import { fitSlope } from '#core/numeric/fit-slope'
import { mean, rms } from '#core/numeric/moments'
import type { RulerFit, SeenTick } from './ruler-map.ts'

/** Where a ruler's ticks begin and end. */
export interface TickEnds {
  /** From the line that they begin on to their free ends. */
  readonly ticks: readonly SeenTick[]
  /** Height of that line at a tick, in the plane, and each tick's length from it, signed. */
  readonly ground: (index: number) => number
  readonly lengths: readonly number[]
  /** rms of the ticks' beginnings about it, as a share of a usual tick. */
  readonly scatter: number
}

/** Ticks are no longer than this many steps. */
const LONGEST = 12
/** A tick goes on where it is as dark as this share of the usual one. */
const GOES_ON = 0.45
/** Light and sharpness change along a ruler: so many ticks to either side tell how dark one is. */
const NEAR = 8
/** Ink is printed with gaps of this share of a tick. */
const GAP = 0.15
/** Ends are looked for so finely, px. */
const FINE_PX = 0.5

/** Half millimetres make every second tick short: all reach as far as these, signed. */
const SHORT = 0.2
export const sharedLength = (lengths: readonly number[]): number => (Math.sign(median(lengths)) || 1) * quantile(lengths.map(Math.abs), SHORT)

/** A tick's middle is this near to where it is due, steps. */
const ASIDE = 0.1

/** How much darker a place on a tick is than halfway to its neighbours, grey levels. */
export const darkness = (raster: Raster, map: PlaneMap, x: number, y: number): number => {
  const at = (off: number): number => greyAt(raster, toPhoto(map, [x + off, y]))
  return (at(0.5) + at(-0.5)) / 2 - Math.min(at(-ASIDE), at(0), at(ASIDE))
}

/** Of values that lie in the picture. */
const meanOf = (values: readonly number[]): number => mean(values.filter(Number.isFinite))

/** How far a line reaches from a height on: as long as the next few places are dark. @param few at least two: ink is printed with gaps */
const reachOf = (dark: (height: number) => number, from: number, step: number, least: number, few = 2): number => {
  const ahead = Array.from({ length: few }, (_, n) => dark(from + (n + 1) * step))
  let reach = 0
  while (Math.abs(reach) < LONGEST && mean(ahead) > least) {
    reach += step
    ahead.shift()
    ahead.push(dark(from + reach + few * step))
  }
  return reach
}

/** A line through most of some heights. */
const lineThrough = (index: readonly number[], heights: readonly number[]): ((index: number) => number) => {
  let line = (_: number): number => median(heights)
  for (let round = 0; round < 3; round++) {
    const off = index.map((n, i) => Math.abs((heights[i] as number) - line(n)))
    const near = index.flatMap((_, i) => ((off[i] as number) <= 3 * median(off) ? [i] : []))
    const { mean: middle, height, slope } = fitSlope(near.map((i) => index[i] as number), near.map((i) => heights[i] as number))
    line = (n) => height + slope * (n - middle)
  }
  return line
}

/**
 * Where the ticks begin and end, by how dark they are in the photo: first of most together, then of each. Longer ones reach farther at
 * their free ends; the others stand on one line.
 * @returns null where they are not dark
 */
export const tickEnds = (raster: Raster, { map, ticks }: RulerFit): TickEnds | null => {
  const seenFeet = ticks.map((t) => toPlane(map, t.foot)[1])
  const start = median(seenFeet) + sharedLength(ticks.map((t, i) => toPlane(map, t.tip)[1] - (seenFeet[i] as number))) / 2
  const step = FINE_PX / median(ticks.map((t) => t.stepPx))
  const some = ticks.filter((_, i) => i % Math.ceil(ticks.length / 60) === 0)
  const usual = (y: number): number => meanOf(some.map((t) => darkness(raster, map, t.index, y)))
  const least = GOES_ON * usual(start)
  if (!(least > 0)) return null
  const [up, down] = [start + reachOf(usual, start, step, least), start + reachOf(usual, start, -step, least)]
  const dark = ticks.map((t) => darkness(raster, map, t.index, start))
  const few = Math.max(2, Math.round((GAP * (up - down)) / step))
  const beyond = (from: number, way: number): number[] =>
    ticks.map((t, i) => from + reachOf((y) => darkness(raster, map, t.index, y), from, way, GOES_ON * meanOf(dark.slice(Math.max(0, i - NEAR), i + NEAR + 1)), few))
  const [above, below] = [beyond(start, step), beyond(start, -step)]
  const farther = (ends: readonly number[]): number => quantile(ends.map((y) => Math.abs(y - start)), 0.9) - median(ends.map((y) => Math.abs(y - start)))
  const [tips, feet] = farther(above) >= farther(below) ? [above, below] : [below, above]
  const ground = lineThrough(ticks.map((t) => t.index), feet)
  const lengths = ticks.map((t, i) => (tips[i] as number) - ground(t.index))
  return {
    ticks: ticks.map(({ index, stepPx }, i) => ({ index, stepPx, foot: toPhoto(map, [index, ground(index)]), tip: toPhoto(map, [index, tips[i] as number]) })),
    ground,
    lengths,
    scatter: rms(ticks.map((t, i) => (feet[i] as number) - ground(t.index))) / median(lengths.map(Math.abs)),
  }
}
