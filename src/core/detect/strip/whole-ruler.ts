import type { Frame, RulerFit, SeenTick } from './ruler-map.ts'
import { fitRuler, longestOf, tickLengthsOf } from './ruler-map.ts'
import { toPhoto, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { median } from '#core/numeric/median'

/** The two ends of a stroke, px. */
type Ends = readonly [Point, Point]

/** A stroke is a tick when its foot is this near to the ruler's line, as a share of a usual tick, and to its place, in steps. */
const OFF_LINE = 0.2
const OFF_PLACE = 0.2
/** A step's map is trusted this share of the fitted ticks' span beyond them. */
const BEYOND = 0.25
const ROUNDS = 8

/** The strokes that stand where a ruler with this map has a tick, the best at each place. */
const ticksOf = (fit: RulerFit, strokes: readonly Ends[]): SeenTick[] => {
  const { map, ticks } = fit
  const lengths = tickLengthsOf(fit)
  const usual = median(lengths)
  const longest = longestOf(lengths)
  const [first, last] = [Math.min(...ticks.map((t) => t.index)), Math.max(...ticks.map((t) => t.index))]
  const reach = BEYOND * (last - first)
  const best = new Map<number, { readonly tick: SeenTick; readonly off: number }>()
  for (const [p, q] of strokes) {
    const [a, b] = [toPlane(map, p), toPlane(map, q)]
    const [foot, tip, [x, y], length] = a[1] * usual < b[1] * usual ? [p, q, a, b[1] - a[1]] as const : [q, p, b, a[1] - b[1]] as const
    const index = Math.round(x)
    const off = Math.abs(x - index)
    if (index < first - reach || index > last + reach || off > OFF_PLACE || Math.abs(y) > OFF_LINE * Math.abs(usual)) continue
    if (Math.abs(length) < 0.5 * Math.abs(usual) || Math.abs(length) > 1.3 * longest || off >= (best.get(index)?.off ?? 1)) continue
    const [before, after] = [toPhoto(map, [x - 0.5, y]), toPhoto(map, [x + 0.5, y])]
    best.set(index, { off, tick: { index, foot, tip, stepPx: Math.hypot(after[0] - before[0], after[1] - before[1]) } })
  }
  return [...best.values()].map((b) => b.tick)
}

/**
 * The fit to all of a ruler's ticks, where the one at hand covers a part of it: its map says where the next ones are due, and they tell
 * it farther on.
 * @param strokes that stand parallel to its ticks, ticks among them
 */
export const wholeRuler = (part: RulerFit, strokes: readonly Ends[], frame: Frame): RulerFit => {
  let fit = part
  for (let round = 0; round < ROUNDS; round++) {
    const next = fitRuler(ticksOf(fit, strokes), frame)
    if (next === null || next.ticks.length <= fit.ticks.length || next.rmsPx > 1.5 * Math.max(0.3, part.rmsPx)) break
    fit = next
  }
  return fit
}

/** rms departure of a ruler's feet from their places, steps. */
export const unevenness = ({ map, ticks }: RulerFit): number => Math.sqrt(ticks.reduce((sum, { foot, index }) => sum + (toPlane(map, foot)[0] - index) ** 2, 0) / ticks.length)
