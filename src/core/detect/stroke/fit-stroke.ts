import { nthSmallest } from '#core/numeric/nth-smallest'
import { factorPacked, solvePacked } from '#core/numeric/packed-cholesky'
import { pullingNoise } from './pulling-noise.ts'
import type { StrokeModel } from './stroke-model.ts'
import { orderPixels } from './stroke-order.ts'
import type { StrokePixels } from './stroke-pixels.ts'
import { accumulate, FIXED, type StrokeState, type StrokeSystem } from './stroke-system.ts'

export interface StrokeFit {
  readonly model: StrokeModel
  /** rms of what the model leaves, grey levels, outliers down-weighted. */
  readonly noise: number
  /** Standard uncertainty of the mean sideways position, px, from white noise of that size. */
  readonly uOffset: number
  /** Share of the weight lost to pixels that do not fit the model (something else lies there). */
  readonly outliers: number
  /** Variance of the noise that pulls the stroke aside, over that of white noise of the fit's size; see pulling-noise.ts. */
  readonly clumping: number
  /** Brightness of the paper beside the stroke, grey levels. */
  readonly paper: number
}

/** Tukey's biweight: residuals beyond this many times the noise count for nothing. */
const CUT = 5
/** Early rounds leave room for a start beside the stroke: no less than these shares of its darkness. */
const SLACK = [2, 1.2, 0.8]
/** And the last rounds for a hand's wobble: a tighter cut would drop one edge of a stroke wherever it departs from its bow, and bias the rest. */
const LAST_SLACK = 0.8
const ROUNDS = 9
/** Residuals above this share of the stroke's darkness are something else, and tell nothing about how its noise clumps. */
const FOREIGN = 0.3
/** A line has settled whose step, in all parameters together, is less than this many of its own standard uncertainties (Newton's decrement). */
const ENOUGH = 0.25
/** With no more pixels than this rounds cost little, and faint strokes need them all. */
const CHEAP = 800

/** Some 400 of the first `count` values, evenly spread. */
const someOf = (values: Float64Array, count: number): Float64Array => {
  const step = Math.max(1, Math.floor(count / 400))
  const some = new Float64Array(Math.ceil(count / step))
  for (let i = 0; i < some.length; i++) some[i] = values[i * step] as number
  return some
}

/** Robust noise, grey levels. */
const noiseOf = (residuals: Float64Array): number => {
  const sizes = someOf(residuals, residuals.length)
  for (let i = 0; i < sizes.length; i++) sizes[i] = Math.abs(sizes[i] as number)
  return Math.max(0.3, nthSmallest(sizes, sizes.length >> 1) / 0.6745)
}

/** Greatest of the amplitudes; spreading them would take longer than the sums beside it. */
const darkest = ({ amplitudes }: StrokeState): number => {
  let most = Number.NEGATIVE_INFINITY
  for (let i = 0; i < amplitudes.length; i++) most = Math.max(most, amplitudes[i] as number)
  return most
}

const stateFrom = ({ bow, amplitudes, halfWidth, sigma }: StrokeModel, pixels: StrokePixels): StrokeState => {
  const greys = someOf(pixels.grey, pixels.count)
  const paper = nthSmallest(greys, Math.floor(0.7 * greys.length))
  return { bow: Float64Array.from(bow), amplitudes: Float64Array.from(amplitudes), halfWidth, sigma, ground: Float64Array.of(paper, 0, 0) }
}

/** Weak expectations that keep the shape from running away where the pixels do not say: [index, expected, 1/spread²]. */
const expectations = (start: StrokeModel, noise: number): readonly (readonly [number, number, number])[] => {
  const unit = Math.max(noise, 0.3) ** 2
  return [
    [2, 0, unit / (0.5 + 0.5 * start.halfWidth) ** 2],
    [3, start.halfWidth, unit / (0.5 * start.halfWidth + 0.2) ** 2],
    [4, start.sigma, unit / (0.35 * start.sigma) ** 2],
  ]
}

/** Adds the expectations to the normal equations, and to each diagonal element what keeps the rest solvable. */
const steady = ({ size, lower, right }: StrokeSystem, state: StrokeState, start: StrokeModel, noise: number): void => {
  for (let i = 0; i < size; i++) lower[i * size + i] = (lower[i * size + i] as number) * 1.000001 + 1e-9
  const values = [0, 0, state.bow[2] as number, state.halfWidth, state.sigma]
  for (const [i, expected, pull] of expectations(start, noise)) {
    lower[i * size + i] = (lower[i * size + i] as number) + pull
    right[i] = (right[i] as number) + pull * (expected - (values[i] as number))
  }
}

const dotOf = (a: Float64Array, b: Float64Array): number => a.reduce((sum, v, i) => sum + v * (b[i] as number), 0)

/** Share of a step that is taken: beyond 2 px of the line, 0.4 of the width or 0.3 of the blur its parts no longer go together. */
const believed = ({ halfWidth, sigma }: StrokeState, step: Float64Array): number =>
  [2, 2, 2, 0.4 * halfWidth, 0.3 * sigma].reduce((share, limit, i) => Math.min(share, limit / Math.abs(step[i] as number)), 1)

/** Moves the state by a step and says how far the line moved, px. Ink never lightens paper. */
const moveState = (state: StrokeState, step: Float64Array): number => {
  const share = believed(state, step)
  const part = (i: number): number => share * (step[i] as number)
  for (let i = 0; i < 3; i++) state.bow[i] = (state.bow[i] as number) + part(i)
  state.halfWidth = Math.max(0.12, state.halfWidth + part(3))
  state.sigma = Math.max(0.35, state.sigma + part(4))
  for (let i = 0; i < 3; i++) state.ground[i] = (state.ground[i] as number) + part(5 + i)
  for (let i = 0; i < state.amplitudes.length; i++) state.amplitudes[i] = Math.max(0, (state.amplitudes[i] as number) + part(FIXED + i))
  return Math.abs(part(0)) + Math.abs(part(1))
}

/** How far the next step will move the line, as steps that shrink go on shrinking. */
const coming = (moved: number, before: number): number => (moved < before ? (moved * moved) / before : moved)

/** How a fit is to be made. */
export interface FitCare {
  /** True when the start is already a fit, so that few rounds do. */
  readonly settled: boolean
  /** A line that would move less than this in a further round, px, has settled. */
  readonly within: number
  /** Whether it is asked how the noise clumps; 1 is given where it is not. */
  readonly clumps: boolean
}

/**
 * Least-squares fit of a stroke model to the pixels around it: position, lean, bow, width, blur, local brightness and the
 * amplitude at each knot together, by Gauss–Newton steps with Tukey's weights. Under white noise it comes close to the
 * Cramér–Rao bound for the position.
 * @param reachS the half width over which pixels were gathered
 * @returns null when there are too few pixels or the system is singular
 */
export const fitStroke = (pixels: StrokePixels, start: StrokeModel, reachS: number, { settled, within, clumps }: FitCare): StrokeFit | null => {
  const size = FIXED + start.amplitudes.length
  if (pixels.count < 2 * size) return null
  const ordered = orderPixels(pixels, start.halfLength, start.amplitudes.length - 1)
  const state = stateFrom(start, pixels)
  const spans = [start.halfLength, reachS] as const
  const slack = settled ? [] : SLACK
  let cut = (slack[0] ?? 0.5) * darkest(state)
  let system: StrokeSystem | null = null
  let before = 0
  for (let round = 0; round < ROUNDS; round++) {
    system = accumulate(ordered, state, spans, cut)
    const noise = noiseOf(system.residuals)
    steady(system, state, start, noise)
    if (!factorPacked(system.lower, size)) return null
    const step = solvePacked(system.lower, system.right)
    if (!Number.isFinite(dotOf(step, system.right))) return null
    const moved = moveState(state, step)
    cut = Math.max(CUT * noise, (slack[round + 1] ?? LAST_SLACK) * darkest(state))
    const converged = coming(moved, before) < within || (pixels.count > CHEAP && dotOf(step, system.right) < (ENOUGH * noise) ** 2)
    if (converged && round >= slack.length) break
    before = moved
  }
  if (system === null) return null
  const cofactor = solvePacked(system.lower, Float64Array.from({ length: size }, (_, i) => (i === 0 ? 1 : 0)))
  const noise = Math.sqrt(system.sum / Math.max(1, system.weight - size))
  const model: StrokeModel = { ...start, bow: [...state.bow] as unknown as StrokeModel['bow'], halfWidth: state.halfWidth, sigma: state.sigma, amplitudes: [...state.amplitudes] }
  return {
    model,
    noise,
    uOffset: noise * Math.sqrt(Math.max(0, cofactor[0] as number)),
    outliers: 1 - system.weight / pixels.count,
    clumping: clumps ? pullingNoise({ pixels: ordered, residuals: system.residuals, model, cut: Math.min(cut, Math.max(CUT * noise, FOREIGN * darkest(state))) }) / Math.max(noise ** 2, 1e-12) : 1,
    paper: state.ground[0] as number,
  }
}
