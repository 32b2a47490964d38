import { linearLeastSquares } from '#core/numeric/least-squares'
import { median } from '#core/numeric/median'
import type { DetectedMark } from '#core/detect/detection'
import { SURE } from '#core/detect/dial/sureness'
import { fitSlope } from '#core/numeric/fit-slope'

/** Whole numbers given to places that are even but for perspective. */
export interface EvenTicks {
  /** Which of the places belong to the grid. */
  readonly members: readonly number[]
  /** Number of each member's tick, the first 0. */
  readonly index: readonly number[]
  /** Step between neighbouring ticks at a member, in the unit of the places. */
  readonly steps: readonly number[]
  /** rms departure from the grid, steps. */
  readonly spread: number
  /** Share of the members whose next neighbour is the next tick: few are missing where ticks are seen at all. */
  readonly filled: number
}

/** A place farther than this from its tick, in steps, is no tick. */
const OFF = 0.2

export type Grid = (place: number) => number

/** n = (a·t + c + d·t³)/(1 + g·t) by linear least squares; the cube stands for the lens. */
export const fitGrid = (t: readonly number[], n: readonly number[], cubic: boolean): Grid | null => {
  const columns = [t, t.map(() => 1), t.map((v, i) => -v * (n[i] as number)), ...(cubic ? [t.map((v) => v ** 3)] : [])]
  const fit = linearLeastSquares(columns, n)
  if (fit === null) return null
  const [a = 0, c = 0, g = 0, d = 0] = fit.coefficients
  return (v) => (a * v + c + d * v ** 3) / (1 + g * v)
}

/** The run of places whose gaps are most alike: where numbering begins. */
const calmest = (gaps: readonly number[]): readonly [start: number, step: number] => {
  const length = Math.min(12, gaps.length)
  let best = Number.POSITIVE_INFINITY
  let start = 0
  for (let i = 0; i + length <= gaps.length; i++) {
    const some = gaps.slice(i, i + length)
    const middle = median(some)
    const spread = some.reduce((s, g) => s + Math.min(1, Math.abs(g / middle - 1)), 0)
    if (spread < best) {
      best = spread
      start = i
    }
  }
  return [start, median(gaps.slice(start, start + length))]
}

/** How many of the last numbered ticks say where the next is due. */
const MEMORY = 14

interface Numbered {
  readonly place: number
  readonly number: number
}

/** Straight line through the last numbered ticks: the number a place would have. */
const due = (recent: readonly Numbered[], step: number): Grid => {
  const { mean, height, slope } = fitSlope(recent.map((r) => r.place), recent.map((r) => r.number))
  return (place) => height + (recent.length < 4 ? 1 / step : slope) * (place - mean)
}

/** Numbers outward from the calm run, each from the ticks just before it. */
const walk = (places: readonly number[], from: number, step: number): (number | null)[] => {
  const index = new Array<number | null>(places.length).fill(null)
  index[from] = 0
  for (const way of [1, -1] as const) {
    const recent: Numbered[] = way === 1 ? [] : places.flatMap((place, i) => (i < from || index[i] === null ? [] : [{ place, number: index[i] as number }])).slice(0, MEMORY)
    if (recent.length === 0) recent.push({ place: places[from] as number, number: 0 })
    for (let i = from + way; i >= 0 && i < places.length; i += way) {
      const place = places[i] as number
      const number = due(recent, step)(place)
      const whole = Math.round(number)
      if (Math.abs(number - whole) > 0.3 || recent.some((r) => r.number === whole)) continue
      index[i] = whole
      recent.unshift({ place, number: whole })
      if (recent.length > MEMORY) recent.pop()
    }
  }
  return index
}

/**
 * Numbers places along a line as the ticks of an even scale seen in perspective.
 * @param places ascending, at least six
 * @returns null when they are not even
 */
export const evenTicks = (places: readonly number[]): EvenTicks | null => {
  if (places.length < 6) return null
  const [start, step] = calmest(places.slice(1).map((p, i) => p - (places[i] as number)))
  const middle = ((places[0] as number) + (places[places.length - 1] as number)) / 2
  const half = ((places[places.length - 1] as number) - (places[0] as number)) / 2
  const t = places.map((p) => (p - middle) / half)
  let index = walk(places, start, step)
  let grid: Grid | null = null
  for (let round = 0; round < 6; round++) {
    const known = index.flatMap((n, i) => (n === null ? [] : [i]))
    if (known.length < 6) return null
    grid = fitGrid(known.map((i) => t[i] as number), known.map((i) => index[i] as number), known.length >= 20 && round > 1)
    if (grid === null) return null
    const at = grid
    index = t.map((v) => (Math.abs(at(v) - Math.round(at(v))) < OFF ? Math.round(at(v)) : null))
  }
  return grid === null ? null : numbered(t, index, grid, half)
}

const numbered = (t: readonly number[], index: readonly (number | null)[], grid: Grid, half: number): EvenTicks => {
  const nearest = new Map<number, number>()
  const off = (i: number): number => Math.abs(grid(t[i] as number) - (index[i] as number))
  index.forEach((n, i) => {
    if (n === null) return
    const rival = nearest.get(n)
    if (rival === undefined || off(i) < off(rival)) nearest.set(n, i)
  })
  const members = [...nearest.values()].sort((a, b) => a - b)
  const numbers = members.map((i) => index[i] as number)
  const first = Math.min(...numbers)
  const next = numbers.slice(1).filter((n, i) => Math.abs(n - (numbers[i] as number)) === 1)
  const steps = members.map((i) => (2e-3 * half) / Math.abs(grid((t[i] as number) + 1e-3) - grid((t[i] as number) - 1e-3)))
  return { members, index: numbers.map((n) => n - first), steps, spread: Math.sqrt(members.reduce((s, i) => s + off(i) ** 2, 0) / members.length), filled: (next.length + 1) / members.length }
}

/** Fewer marks may be even by chance. */
const LEAST = 12
/** Motors place their full steps to some 3 to 5 % of a step (common practice, no source); a ruler's ticks are seen even to 1.5 %. */
const PRINTED = 0.015
/** Share of the marks, and of the steps between the first and the last, that such a scale shows. */
const MOST = 0.9
const FILLED = 0.65

/** The doubt about marks in a row that are all as even as print: a ruler's ticks, a comb. Without one, nothing. */
export const tooEven = (marks: readonly DetectedMark[]): string[] => {
  const sure = marks.filter((m) => m.confidence >= SURE)
  const grid = sure.length < LEAST ? null : evenTicks(sure.map((m) => m.positionPx ?? 0))
  if (grid === null || grid.members.length < MOST * sure.length || grid.filled < FILLED || grid.spread > PRINTED) return []
  return [`${grid.members.length} of the marks are even to ${Math.max(0.1, 100 * grid.spread).toFixed(1)} % of a step: no motor and no hand is, a ruler or a comb is; if they are one, the marks were not found: take it off for the photo, or leave it out with --ignore`]
}
