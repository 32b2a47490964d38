import { levenbergMarquardt } from '#core/numeric/levenberg-marquardt'
import { median } from '#core/numeric/median'
import type { CentreEstimate } from './centre-from-strokes.ts'
import { bearing } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { repeatCounts } from './repeat-count.ts'

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
  /** So many marks counted wrongly here and there would leave the slow waves that are left. */
  readonly miscounted: number
}

const TURN = 2 * Math.PI
const LEAST_MARKS = 12

const wrap = (angle: number): number => angle - TURN * Math.round(angle / TURN)

/** Step number of each mark, and the steps in the turn. */
interface Count {
  readonly index: readonly number[]
  readonly steps: number
}

const running = (gaps: readonly number[], roundOff: (gap: number, i: number) => number): Count => {
  const index = [0]
  gaps.forEach((gap, i) => index.push((index[i] as number) + roundOff(gap, i)))
  return { index: index.slice(0, -1), steps: index[gaps.length] as number }
}

/** Departures from even steps, in steps, that a motor may show; and slow waves that a true count may leave. */
const MOST_UNEVEN = 1.2
const MOST_SLOW = 4
/** A bend of the paper leaves slow waves, too: as if so many marks were counted wrongly, at most. */
const MOST_MISCOUNTED = 4

/** Smaller is better: doubt of the terms, with a penalty for slow waves left over. */
const worth = (fit: EvenTurn): number => (fit.covariance[0] + fit.covariance[2]) * (1 + fit.uneven ** 2)

/** Three ways to count: gaps in units of their neighbours' median; one each; one each but near-doubles share one. */
const counts = (gaps: readonly number[]): Count[] => {
  const usual = median(gaps)
  const local = gaps.map((_, i) => median(Array.from({ length: 11 }, (__, k) => gaps[(i + k - 5 + gaps.length) % gaps.length] as number)))
  return [
    running(gaps, (gap, i) => Math.round(gap / (local[i] as number))),
    running(gaps, () => 1),
    running(gaps, (gap) => (gap < 0.35 * usual ? 0 : 1)),
  ]
}

/** Bearing of a point after centring and stretching. */
const seen = ([px, py]: Point, [cx, cy, a, b]: readonly [number, number, number, number]): number => {
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

const fitCount = (points: readonly Point[], { index, steps }: Count, start: Point, stretched: boolean): EvenTurn | null => {
  const radius = points.reduce((sum, p) => sum + Math.hypot(p[0] - start[0], p[1] - start[1]), 0) / points.length
  const view = ([, dx, dy, a = 0, b = 0]: readonly number[]) => [start[0] + (dx as number) * radius, start[1] + (dy as number) * radius, a, b] as const
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
  const first = points[0] as Point
  let parameters: readonly number[] = [seen(first, [start[0], start[1], 0, 0]) - (TURN * (index[0] as number)) / steps, 0, 0, ...(stretched ? [0, 0] : [])]
  for (let round = 0; round < 4; round++) {
    const fit = levenbergMarquardt(problem, parameters, { iterations: 24, tolerance: 1e-12 })
    if (fit.inverseNormal === null) return null
    parameters = fit.parameters
    const raw = departures(parameters)
    const scale = Math.max(1e-5, median(raw.map(Math.abs)) / 0.6745)
    weights = raw.map((r) => Math.max(0, 1 - (r / (4 * scale)) ** 2))
  }
  const raw = [...departures(parameters)]
  const most = 6 * Math.max(1e-5, median(raw.map(Math.abs)) / 0.6745)
  const kept = raw.filter((r) => Math.abs(r) < most)
  const residual = Math.sqrt(kept.reduce((sum, r) => sum + r * r, 0) / Math.max(1, kept.length - parameters.length))
  const [offset, dx, dy, a = 0, b = 0] = parameters as [number, number, number, number?, number?]
  const waves = wavesPerTurn(raw, index.map((k) => offset + (TURN * k) / steps))
  const slow = waves.slice(0, 2).flat()
  // What the marks' own scatter and the waves next to the fitted ones say of a wave's coefficient.
  const white = (2 * residual ** 2) / points.length
  const variance = (2 * white + slow.reduce((sum, c) => sum + c * c, 0)) / (2 + slow.length)
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
    miscounted: (falling * points.length ** 2) / (4 * Math.LN2),
  }
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

/** A part of the turn without marks that is wider than this may be the unmarked rest of an arc, rad. */
const WIDEST = 0.9
/** Marks count as repeating when they keep their places in the pattern to this share of a repeat, and to less where a gap too wide to be counted by steps leaves nothing else to say so (seen on rendered turns; no source). */
const GATHERED = 0.12
const GATHERED_ALONE = 0.05

/** Counting by the repeats of the pattern gets better as the turn gets truer: so often at most. */
const REFINED = 3

/** Do two ways to count come to the same, wherever they begin? */
const sameCount = (a: Count, b: Count): boolean => {
  const ahead = (a.index[0] as number) - (b.index[0] as number)
  return a.steps === b.steps && a.index.every((k, i) => Math.abs(k - (b.index[i] as number) - ahead) < 1e-9)
}

/** The fit that leaves the least doubt. */
const clearest = (fits: readonly (EvenTurn | null)[]): EvenTurn | null => fits.flatMap((fit) => fit ?? []).sort((a, b) => worth(a) - worth(b))[0] ?? null

/** The count that leaves the least doubt; null when none fits. */
const bestCount = (all: readonly Count[], points: readonly Point[], start: Point, stretched: boolean): EvenTurn | null => {
  const different = all.filter((count, i) => all.findIndex((other) => sameCount(count, other)) === i)
  const fits = different.flatMap((count) => (points.length < LEAST_MARKS ? [] : (fitCount(points, count, start, stretched) ?? [])))
  return clearest(fits.filter((fit) => fit.residual <= (MOST_UNEVEN * TURN) / fit.steps && fit.uneven <= MOST_SLOW))
}

/**
 * Centre, and on request the stretch, that make a full turn of marks even: the once- and twice-per-turn terms are the rig's
 * and the camera's, not the motor's.
 * @param points middles of the marks' ink in the plane, in any order
 * @returns null when the marks do not go round, are fewer than 12, or are not even enough to count
 */
export const evenTurn = (points: readonly Point[], start: Point, stretched: boolean): EvenTurn | null => {
  if (points.length < LEAST_MARKS) return null
  const sorted = [...points].sort((p, q) => bearing(start, p) - bearing(start, q))
  const angles = sorted.map((p) => bearing(start, p))
  const gaps = angles.map((angle, i) => (i + 1 < angles.length ? (angles[i + 1] as number) : (angles[0] as number) + TURN) - angle)
  if (Math.max(...gaps) > WIDEST) return null
  // Across a wide gap gaps cannot be counted, and uneven ones badly, but the repeats of the pattern go on.
  const wide = Math.max(...gaps) > Math.max(4.5 * median(gaps), 0.2)
  const steps = wide ? [] : counts(gaps)
  const repeats = repeatCounts(angles)
  const repeated = bestCount(repeats, sorted, start, stretched)
  const gathered = repeated !== null && repeated.residual <= ((wide ? GATHERED_ALONE : GATHERED) * TURN) / repeated.steps
  const tried: Count[] = [...steps, ...(gathered ? repeats : [])]
  let best = clearest([bestCount(steps, sorted, start, stretched), gathered ? repeated : null])
  for (let round = 0; round < REFINED && best !== null; round++) {
    const { centre, stretch } = best
    const fresh = repeatCounts(sorted.map((p) => seen(p, [centre[0], centre[1], ...stretch]))).filter((count) => !tried.some((other) => sameCount(count, other)))
    tried.push(...fresh)
    const truer = bestCount(fresh, sorted, start, stretched)
    if (truer === null || worth(truer) >= worth(best)) break
    best = truer
  }
  // A count that may be wrong here and there still tells the centre, but a tilt would be made of it.
  return stretched && best !== null && best.miscounted > MOST_MISCOUNTED ? null : best
}
