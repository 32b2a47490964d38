import { median } from '#core/numeric/median'
import type { CentreEstimate } from '#core/detect/centre/centre-estimate'
import { logWays } from '#core/numeric/log-ways'
import { mean } from '#core/numeric/moments'
import { levenbergMarquardt } from '#core/numeric/levenberg-marquardt'
import type { Point } from '#core/detect/raster'

/** What a full turn of marks tells, because a motor's own pattern repeats at least five times per turn. */
export interface EvenTurn extends CentreEstimate {
  /** Stretch that makes the turn even: (x, y) → ((1 + a)·x + b·y, b·x + (1 − a)·y) about the centre; zeros when it was not fitted. */
  readonly stretch: readonly [a: number, b: number]
  /** Standard uncertainty of each, rad of bearing amplitude. */
  readonly uStretch: number
  /** Share of the stretch that the turn told: 1, or less where it was weighed with a paper that tells it, too. */
  readonly told: number
  /** rms departure from even steps, rad. */
  readonly residual: number
  /** Even steps in the turn. */
  readonly steps: number
  /** Size of the third and fourth waves per turn over what scatter alone would give; well above 1 the count is wrong. */
  readonly uneven: number
  /** Nats by which bearings and count are unlikely: to compare counts of the same marks. */
  readonly unlikely: number
  /** So many marks counted wrongly here and there would leave the slow waves that are left. */
  readonly miscounted: number
}

export const TURN = 2 * Math.PI

const wrap = (angle: number): number => angle - TURN * Math.round(angle / TURN)

/** Step number of each mark, or the repeats of a pattern since the first one's with its place in it as a fraction; and steps, or repeats, in the turn. */
export interface Count {
  readonly index: readonly number[]
  readonly steps: number
}

/** Bearing of a point after centring and stretching. */
export const seen = ([px, py]: Point, [cx, cy, a, b]: readonly [number, number, number, number]): number => {
  const x = px - cx
  const y = py - cy
  return Math.atan2((a - 1) * y - b * x, (1 + a) * x + b * y)
}

/** How the bearings of points change with the first one's, with the centre's place along x and y, and with the two parts of the stretch: one array each. */
const seenSlopes = (points: readonly Point[], [cx, cy, a, b]: readonly [number, number, number, number]): readonly Float64Array[] => {
  const [first, byX, byY, byA, byB] = Array.from({ length: 5 }, () => new Float64Array(points.length)) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array]
  first.fill(-1)
  for (let i = 0; i < points.length; i++) {
    const [px, py] = points[i] as Point
    const x = px - cx
    const y = py - cy
    const across = (1 + a) * x + b * y
    const down = b * x + (1 - a) * y
    const square = across * across + down * down
    byX[i] = (across * b - down * (1 + a)) / square
    byY[i] = (across * (1 - a) - down * b) / square
    byA[i] = (down * x + across * y) / square
    byB[i] = (down * y - across * x) / square
  }
  return [first, byX, byY, byA, byB]
}

/** The fit of a count: first bearing, centre (in units of the marks' radius, from the start) and stretch, and what it leaves of each bearing, rad. */
interface Fit {
  readonly parameters: readonly number[]
  readonly left: Float64Array
}

/** Robust spread of departures, rad, no less than rounding. */
const scaleOf = (left: Float64Array): number => Math.max(1e-5, median(left.map(Math.abs)) / 0.6745)

/** Least squares with weights that fall to 0 at four spreads; null when the marks leave something open. */
const fitSteps = (points: readonly Point[], { index, steps }: Count, [[x, y], radius]: readonly [Point, number], stretched: boolean): Fit | null => {
  const view = ([, dx, dy, a = 0, b = 0]: readonly number[]) => [x + (dx as number) * radius, y + (dy as number) * radius, a, b] as const
  const departures = (parameters: readonly number[]): Float64Array => {
    const [from, offset] = [view(parameters), parameters[0] as number]
    const left = new Float64Array(points.length)
    for (let i = 0; i < left.length; i++) left[i] = wrap(seen(points[i] as Point, from) - offset - (TURN * (index[i] as number)) / steps)
    return left
  }
  let weights = new Float64Array(points.length).fill(1)
  const problem = {
    residuals: (parameters: readonly number[]) => departures(parameters).map((r, i) => r * (weights[i] as number)),
    jacobian: (parameters: readonly number[]) => {
      const units = [1, radius, radius, 1, 1]
      return seenSlopes(points, view(parameters)).slice(0, parameters.length).map((column, j) => column.map((slope, i) => slope * (units[j] as number) * (weights[i] as number)))
    },
  }
  let parameters: readonly number[] = [seen(points[0] as Point, [x, y, 0, 0]) - (TURN * (index[0] as number)) / steps, 0, 0, ...(stretched ? [0, 0] : [])]
  for (let round = 0; round < 4; round++) {
    const fit = levenbergMarquardt(problem, parameters, { iterations: 24, tolerance: 1e-12 })
    if (fit.inverseNormal === null) return null
    parameters = fit.parameters
    const left = departures(parameters)
    const scale = scaleOf(left)
    weights = left.map((r) => Math.max(0, 1 - (r / (4 * scale)) ** 2))
  }
  return { parameters, left: departures(parameters) }
}

/** Waves per turn that no rig leaves; a motor neither, but for the one of them in which its pattern repeats (the fifth or a later one). */
const SLOW = [3, 4, 5, 6, 7, 8]

/** The two coefficients of each slow wave in the residuals. */
const wavesPerTurn = (residuals: readonly number[], angles: readonly number[]): number[][] =>
  SLOW.map((n) => [Math.cos, Math.sin].map((wave) => (2 * residuals.reduce((sum, r, i) => sum + r * wave(n * (angles[i] as number)), 0)) / residuals.length))

/**
 * A mark counted wrongly is a step of one gap that falls off again over the turn: a gap/(π·n) in the n-th wave; a bend of the paper falls off
 * alike. n² times the square of a wave beyond what scatter leaves in each coefficient (`white`), by the middle one of the waves; rad².
 */
const fallingWaves = (waves: readonly (readonly number[])[], white: number): number =>
  median(waves.map((wave, i) => (SLOW[i] as number) ** 2 * (wave.reduce((sum, c) => sum + c * c, 0) - 2 * white)))

/** Mere scatter makes the middle one so large once in eight times, in units of `white` (simulated). */
const BY_SCATTER = 10

/** What leaves such waves leaves the square of this in each coefficient of the n-th, too, which was fitted. The middle of squares is ln 2 of their mean; rad². */
const leftInWave = (falling: number, white: number, n: number): number => Math.max(0, falling - BY_SCATTER * white) / (2 * Math.LN2 * n ** 2)

/** A pair in the place of one mark, or a mark that is none, tells nothing of the count; more than this share of the marks do. */
const STRAYS = 0.15

/** What a count leaves of each bearing, but 0 for the few that it leaves more than `most` of. */
const withoutStrays = (left: Float64Array, most: number): number[] => {
  const isStray = (r: number): boolean => Math.abs(r) >= most
  return left.filter(isStray).length > STRAYS * left.length ? [...left] : Array.from(left, (r) => (isStray(r) ? 0 : r))
}

/** Chance that a mark is none, or a second one, and lies anywhere. */
const ANYWHERE = 0.05

/** Places in the pattern: 1 where all steps are alike. */
export const placesIn = ({ index }: Count): number => new Set(index.map((k) => Math.round(1e6 * (k - Math.floor(k))))).size

/** Nats that it takes to say which places of the turn bear marks: steps fine enough pass by any mark. */
export const toSayWhich = (count: Count): number => {
  const borne = new Set(count.index.map((k) => Math.round(1e6 * k))).size
  return logWays(Math.max(borne, count.steps * placesIn(count)), borne)
}

/** Minus ln of the likelihood of what a count leaves of each bearing; each free parameter costs half a ln of the number of marks (Schwarz 1978, from memory). */
const unlikelihood = (left: Float64Array, residual: number, free: number): number => {
  const spread = Math.max(residual, 1e-5)
  const scattered = (1 - ANYWHERE) / (spread * Math.sqrt(TURN))
  return (free / 2) * Math.log(left.length) - left.reduce((sum, r) => sum + Math.log(scattered * Math.exp(-((r / spread) ** 2) / 2) + ANYWHERE / TURN), 0)
}

/** The turn that a count makes even, as its marks tell it; null when they leave something open. */
export const fitCount = (points: readonly Point[], count: Count, start: Point, stretched: boolean): EvenTurn | null => {
  const radius = mean(points.map((p) => Math.hypot(p[0] - start[0], p[1] - start[1])))
  const fit = fitSteps(points, count, [start, radius], stretched)
  if (fit === null) return null
  const { index, steps } = count
  const [offset, dx, dy, a = 0, b = 0] = fit.parameters as [number, number, number, number?, number?]
  const most = 6 * scaleOf(fit.left)
  const kept = fit.left.filter((r) => Math.abs(r) < most)
  const residual = Math.sqrt(kept.reduce((sum, r) => sum + r * r, 0) / Math.max(1, kept.length - fit.parameters.length))
  const waves = wavesPerTurn(withoutStrays(fit.left, most), index.map((k) => offset + (TURN * k) / steps))
  const slow = waves.slice(0, 2).flat()
  // What the marks' own scatter and the waves next to the fitted ones say of a wave's coefficient.
  const white = (2 * residual ** 2) / points.length
  const measured = (2 * white + slow.reduce((sum, c) => sum + c * c, 0)) / (2 + slow.length)
  // A repeated pattern leaves nothing in them; what merely scatters about even steps leaves its share, whatever the few next to them show.
  const variance = index.every(Number.isInteger) ? Math.max(white, measured) : measured
  const falling = fallingWaves(waves, white)
  const once = variance + leftInWave(falling, white, 1)
  return {
    centre: [start[0] + dx * radius, start[1] + dy * radius],
    covariance: [once * radius ** 2, 0, once * radius ** 2],
    stretch: [a, b],
    uStretch: stretched ? Math.sqrt(variance + leftInWave(falling, white, 2)) : 0,
    told: 1,
    residual,
    steps,
    uneven: Math.sqrt(slow.reduce((sum, c) => sum + c * c, 0) / slow.length / Math.max(white, 1e-12)),
    unlikely: unlikelihood(fit.left, residual, fit.parameters.length + placesIn(count) - 1) + toSayWhich(count),
    miscounted: (falling * points.length ** 2) / (4 * Math.LN2),
  }
}
