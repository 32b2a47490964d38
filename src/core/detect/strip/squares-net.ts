import type { Candidate } from '#core/detect/line/candidate'
import { toPlane } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import { medianOrZero } from '#core/numeric/median'
import { extremes, mean } from '#core/numeric/moments'
import type { RulerFit } from './ruler-map.ts'
import { darkness } from './tick-ends.ts'

type Line = Pick<Candidate, 'p0' | 'p1' | 'depth'>

/** Lines along a row of even strokes, each seen over this share of it, that cross them at so many heights are the other rules of squared paper: a ruler's body has one edge, a trace one base line. */
const SEEN = 0.4
const LEAST_CROSSED = 3
/** Heights are told apart to half a step, at their ends not looked at. */
const PER_STEP = 2
const END = 0.1
/** A line runs along or across the row to within this slope. */
const SLOPE = 0.1
/** A rule stands so near to its place, steps, and is no darker than this many times the usual one: a pen's stroke is. */
const IN_PLACE = 0.1
const DARKER = 1.6

/** A line as the even strokes' plane has it: its middle, and how far it reaches along and across. */
const placed = ({ map }: RulerFit, { p0, p1 }: Line): { readonly x: number; readonly y: number; readonly along: number; readonly across: number } => {
  const [a, b] = [toPlane(map, p0), toPlane(map, p1)]
  return { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, along: Math.abs(b[0] - a[0]), across: Math.abs(b[1] - a[1]) }
}

const heightsCrossed = (strokes: RulerFit, lines: readonly Line[]): number => {
  const usual = medianOrZero(strokes.ticks.map(({ tip }) => toPlane(strokes.map, tip)[1]))
  const [first, last] = extremes(strokes.ticks.map((t) => t.index))
  const length = last - first
  const seen = new Map<number, number>()
  for (const line of lines) {
    const { y, along, across } = placed(strokes, line)
    if (across > SLOPE * along || y / usual < END || y / usual > 1 - END) continue
    const height = Math.round(PER_STEP * y)
    seen.set(height, (seen.get(height) ?? 0) + along)
  }
  return [...seen.values()].filter((covered) => covered > SEEN * length).length
}

/**
 * The lines without the rules of squared paper, where even strokes that look like a ruler's ticks are some of them.
 * @param lines those that are left
 * @param all every thin straight line on the paper
 * @returns null where the strokes are no rules
 */
export const withoutNet = <Some extends Line>(strokes: RulerFit, lines: readonly Some[], all: readonly Line[]): Some[] | null => {
  if (heightsCrossed(strokes, all) < LEAST_CROSSED) return null
  const isCrossing = (line: Line): boolean => {
    const { along, across } = placed(strokes, line)
    return across < SLOPE * along
  }
  const isUpright = (line: Line): boolean => {
    const { x, along, across } = placed(strokes, line)
    return along < SLOPE * across && Math.abs(x - Math.round(x)) < IN_PLACE
  }
  const [crossing, upright] = [lines.filter(isCrossing), lines.filter(isUpright)]
  const darkest = DARKER * medianOrZero(all.filter(isCrossing).map((line) => line.depth))
  // Marks of a good motor are as even, but darker than the rules that cross them.
  if (medianOrZero(upright.map((line) => line.depth)) > darkest) return null
  const net = new Set([...crossing, ...upright].filter((line) => line.depth < darkest))
  return lines.filter((line) => !net.has(line))
}

/** Heights about a place at which a rule's darkness is looked at, steps. */
const ABOUT = [-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3]

/** Is what lies at a place, px, no more than one of the rules that even strokes are? */
export const isOnRule = (raster: Raster, { map, ticks }: RulerFit, place: Point): boolean => {
  const [x, y] = toPlane(map, place)
  const dark = (at: number): number => mean(ABOUT.map((off) => darkness(raster, map, at, y + off)))
  return Math.abs(x - Math.round(x)) < IN_PLACE && dark(x) < DARKER * medianOrZero(ticks.map((t) => dark(t.index)).filter(Number.isFinite))
}
