import { solveLinear } from '#core/numeric/solve-linear'
import { clumping } from './clumping.ts'
import type { StrokeModel } from './stroke-model.ts'
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
  /** Scatter of the residuals' sideways pull over that of white noise (variance ratio); see clumping.ts. */
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
/** A line that moves less than this, px, has settled. */
const SETTLED = 2e-3

const medianAbsolute = (values: Float64Array): number => {
  const step = Math.max(1, Math.floor(values.length / 400))
  const some = new Float64Array(Math.ceil(values.length / step))
  for (let i = 0; i < some.length; i++) some[i] = Math.abs(values[i * step] as number)
  some.sort()
  return (some[some.length >> 1] ?? 0) / 0.6745
}

const stateFrom = ({ bow, amplitudes, halfWidth, sigma }: StrokeModel, pixels: StrokePixels): StrokeState => {
  const sorted = pixels.grey.slice(0, pixels.count).sort()
  return { bow: [...bow], amplitudes: [...amplitudes], halfWidth, sigma, ground: [sorted[Math.floor(0.7 * pixels.count)] ?? 255, 0, 0] }
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

const squareOf = ({ size, lower }: StrokeSystem): number[][] =>
  Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (__, j) => {
      const low = i >= j ? (lower[i * size + j] as number) : (lower[j * size + i] as number)
      return i === j ? low * 1.000001 + 1e-9 : low
    }),
  )

const clamp = (value: number, limit: number): number => Math.max(-limit, Math.min(limit, value))

/** Moves the state by a step and says how far the line moved, px. */
const moveState = (state: StrokeState, step: readonly number[]): number => {
  for (let i = 0; i < 3; i++) state.bow[i] = (state.bow[i] as number) + clamp(step[i] as number, 2)
  state.halfWidth = Math.max(0.12, state.halfWidth + clamp(step[3] as number, 0.4 * state.halfWidth))
  state.sigma = Math.max(0.35, state.sigma + clamp(step[4] as number, 0.3 * state.sigma))
  for (let i = 0; i < 3; i++) state.ground[i] = (state.ground[i] as number) + (step[5 + i] as number)
  for (let i = 0; i < state.amplitudes.length; i++) state.amplitudes[i] = (state.amplitudes[i] as number) + (step[FIXED + i] as number)
  return Math.abs(step[0] as number) + Math.abs(step[1] as number)
}

/**
 * Least-squares fit of a stroke model to the pixels around it: position, lean, bow, width, blur, local brightness and the
 * amplitude at each knot together, by Gauss–Newton steps with Tukey's weights. Under white noise it comes close to the
 * Cramér–Rao bound for the position.
 * @param reachS the half width over which pixels were gathered
 * @param settled true when the start is already a fit, so that few rounds do
 * @returns null when there are too few pixels or the system is singular
 */
export const fitStroke = (pixels: StrokePixels, start: StrokeModel, reachS: number, settled = false): StrokeFit | null => {
  const size = FIXED + start.amplitudes.length
  if (pixels.count < 2 * size) return null
  const state = stateFrom(start, pixels)
  const spans = [start.halfLength, reachS] as const
  const slack = settled ? [] : SLACK
  let cut = (slack[0] ?? 0.5) * Math.max(...state.amplitudes)
  let system: StrokeSystem | null = null
  let square: number[][] = []
  for (let round = 0; round < ROUNDS; round++) {
    system = accumulate(pixels, state, spans, cut)
    const noise = Math.max(0.3, medianAbsolute(system.residuals))
    square = squareOf(system)
    const right = [...system.right]
    const values = [0, 0, state.bow[2] as number, state.halfWidth, state.sigma]
    for (const [index, expected, pull] of expectations(start, noise)) {
      ;(square[index] as number[])[index] = ((square[index] as number[])[index] as number) + pull
      right[index] = (right[index] as number) + pull * (expected - (values[index] as number))
    }
    const step = solveLinear(square, right)
    if (step === null || step.some((v) => !Number.isFinite(v))) return null
    const moved = moveState(state, step)
    cut = Math.max(CUT * noise, (slack[round + 1] ?? LAST_SLACK) * Math.max(...state.amplitudes))
    if (moved < SETTLED && round >= slack.length) break
  }
  if (system === null) return null
  const cofactor = solveLinear(square, Array.from({ length: size }, (_, i) => (i === 0 ? 1 : 0)))
  const noise = Math.sqrt(system.sum / Math.max(1, system.weight - size))
  const model: StrokeModel = { ...start, bow: state.bow as unknown as StrokeModel['bow'], halfWidth: state.halfWidth, sigma: state.sigma, amplitudes: state.amplitudes }
  return {
    model,
    noise,
    uOffset: noise * Math.sqrt(Math.max(0, cofactor?.[0] ?? 0)),
    outliers: 1 - system.weight / pixels.count,
    clumping: clumping(pixels, system.residuals, model, Math.min(cut, Math.max(CUT * noise, FOREIGN * Math.max(...state.amplitudes)))),
    paper: state.ground[0] as number,
  }
}
