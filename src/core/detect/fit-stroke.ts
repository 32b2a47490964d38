import { solveLinear } from '#core/numeric/solve-linear'
import type { StrokePixels } from './stroke-pixels.ts'
import { bowAt, inkProfile, type StrokeModel } from './stroke-model.ts'

export interface StrokeFit {
  readonly model: StrokeModel
  /** rms of what the model leaves, grey levels, outliers down-weighted. */
  readonly noise: number
  /** Standard uncertainty of the mean sideways position, px, from white noise of that size. */
  readonly uOffset: number
  /** Share of the pixels that do not fit the model (something else lies there). */
  readonly outliers: number
}

const ROUNDS = 7
/** Tukey's biweight: residuals beyond this many times the noise count for nothing. */
const CUT = 5

interface State {
  readonly bow: number[]
  readonly amplitudes: number[]
  readonly ground: number[]
  halfWidth: number
  sigma: number
}

const SQRT_2PI = Math.sqrt(2 * Math.PI)

/** Prediction and derivatives at one pixel; order: bow ×3, half width, sigma, ground ×3, amplitudes. */
const predict = (state: State, t: number, s: number, [halfLength, reachS]: readonly [number, number], row: Float64Array): number => {
  const tau = t / halfLength
  const { halfWidth: h, sigma, amplitudes, ground } = state
  const d = s - bowAt({ bow: state.bow as unknown as StrokeModel['bow'] }, tau)
  const plus = Math.exp(-0.5 * ((d + h) / sigma) ** 2) / (sigma * SQRT_2PI)
  const minus = Math.exp(-0.5 * ((d - h) / sigma) ** 2) / (sigma * SQRT_2PI)
  const p = inkProfile(d, h, sigma)
  const last = amplitudes.length - 1
  const place = Math.min(last, Math.max(0, ((tau + 1) / 2) * last))
  const knot = last === 0 ? 0 : Math.min(last - 1, Math.floor(place))
  const f = place - knot
  const a = last === 0 ? (amplitudes[0] as number) : (amplitudes[knot] as number) * (1 - f) + (amplitudes[knot + 1] as number) * f
  const slope = a * (plus - minus)
  row.fill(0)
  row[0] = slope
  row[1] = slope * tau
  row[2] = slope * (1.5 * tau * tau - 0.5)
  row[3] = -a * (plus + minus)
  row[4] = (a * ((d + h) * plus - (d - h) * minus)) / sigma
  row[5] = 1
  row[6] = s / reachS
  row[7] = tau
  row[8 + knot] = -p * (1 - f)
  if (last > 0) row[9 + knot] = -p * f
  return (ground[0] as number) + ((ground[1] as number) * s) / reachS + (ground[2] as number) * tau - a * p
}

const medianAbsolute = (values: Float64Array): number => {
  const sorted = Float64Array.from(values, Math.abs).sort()
  return (sorted[sorted.length >> 1] ?? 0) / 0.6745
}

const stateFrom = ({ bow, amplitudes, halfWidth, sigma }: StrokeModel, pixels: StrokePixels): State => {
  const sorted = pixels.grey.slice(0, pixels.count).sort()
  return { bow: [...bow], amplitudes: [...amplitudes], halfWidth, sigma, ground: [sorted[Math.floor(0.7 * pixels.count)] ?? 255, 0, 0] }
}

/** Weak expectations that keep shape and ends from running away where the pixels do not say; [index, expected, 1/spread²]. */
const expectations = (start: StrokeModel, noise: number): readonly (readonly [number, number, number])[] => {
  const unit = Math.max(noise, 0.3) ** 2
  return [
    [3, start.halfWidth, unit / (0.5 * start.halfWidth + 0.2) ** 2],
    [4, start.sigma, unit / (0.35 * start.sigma) ** 2],
    [2, 0, unit / (0.5 + 0.5 * start.halfWidth) ** 2],
  ]
}

const stepState = (state: State, step: readonly number[]): number => {
  for (let i = 0; i < 3; i++) state.bow[i] = (state.bow[i] as number) + Math.max(-2, Math.min(2, step[i] as number))
  state.halfWidth = Math.max(0.12, state.halfWidth + Math.max(-0.4 * state.halfWidth, Math.min(0.5 * state.halfWidth, step[3] as number)))
  state.sigma = Math.max(0.35, state.sigma + Math.max(-0.3 * state.sigma, Math.min(0.3 * state.sigma, step[4] as number)))
  for (let i = 0; i < 3; i++) state.ground[i] = (state.ground[i] as number) + (step[5 + i] as number)
  for (let i = 0; i < state.amplitudes.length; i++) state.amplitudes[i] = (state.amplitudes[i] as number) + (step[8 + i] as number)
  return Math.abs(step[0] as number) + Math.abs(step[1] as number)
}

/**
 * Least-squares fit of a stroke model to the pixels around it: position, lean, bow, width, blur, local brightness and the
 * amplitude at each knot together, by Gauss–Newton steps with Tukey's weights. Under white noise it comes close to the
 * Cramér–Rao bound for the position.
 * @param reachS the half width over which pixels were gathered
 * @returns null when there are too few pixels or the system is singular
 */
export const fitStroke = (pixels: StrokePixels, start: StrokeModel, reachS: number): StrokeFit | null => {
  const size = 8 + start.amplitudes.length
  if (pixels.count < 2 * size) return null
  const state = stateFrom(start, pixels)
  const row = new Float64Array(size)
  const residuals = new Float64Array(pixels.count)
  const spans = [start.halfLength, reachS] as const
  let noise = 0
  let last: { readonly normal: number[][]; readonly weight: number; readonly sum: number } | null = null
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = 0; i < pixels.count; i++) residuals[i] = (pixels.grey[i] as number) - predict(state, pixels.t[i] as number, pixels.s[i] as number, spans, row)
    noise = Math.max(0.3, medianAbsolute(residuals))
    const cut = CUT * noise * (round === 0 ? 4 : round === 1 ? 2 : 1)
    const normal = Array.from({ length: size }, () => new Array<number>(size).fill(0))
    const right = new Array<number>(size).fill(0)
    let weight = 0
    let sum = 0
    for (let i = 0; i < pixels.count; i++) {
      const z = (residuals[i] as number) / cut
      if (Math.abs(z) >= 1) continue
      const w = (1 - z * z) ** 2
      predict(state, pixels.t[i] as number, pixels.s[i] as number, spans, row)
      weight += w
      sum += w * (residuals[i] as number) ** 2
      for (let a = 0; a < size; a++) {
        const va = row[a] as number
        if (va === 0) continue
        const line = normal[a] as number[]
        right[a] = (right[a] as number) + w * va * (residuals[i] as number)
        for (let b = 0; b <= a; b++) line[b] = (line[b] as number) + w * va * (row[b] as number)
      }
    }
    for (let a = 0; a < size; a++) for (let b = a + 1; b < size; b++) (normal[a] as number[])[b] = (normal[b] as number[])[a] as number
    const values = [0, 0, state.bow[2] as number, state.halfWidth, state.sigma]
    for (const [index, expected, pull] of expectations(start, noise)) {
      ;(normal[index] as number[])[index] = ((normal[index] as number[])[index] as number) + pull
      right[index] = (right[index] as number) + pull * (expected - (values[index] as number))
    }
    last = { normal, weight, sum }
    const step = solveLinear(normal.map((line, i) => line.map((v, j) => (i === j ? v * 1.000001 + 1e-9 : v))), right)
    if (step === null || step.some((v) => !Number.isFinite(v))) return null
    if (stepState(state, step) < 1e-4 && round > 2) break
  }
  if (last === null) return null
  const cofactor = solveLinear(last.normal.map((line, i) => line.map((v, j) => (i === j ? v * 1.000001 + 1e-9 : v))), Array.from({ length: size }, (_, i) => (i === 0 ? 1 : 0)))
  const rmsLeft = Math.sqrt(last.sum / Math.max(1, last.weight - size))
  const model: StrokeModel = { ...start, bow: state.bow as unknown as StrokeModel['bow'], halfWidth: state.halfWidth, sigma: state.sigma, amplitudes: state.amplitudes }
  return { model, noise: rmsLeft, uOffset: rmsLeft * Math.sqrt(Math.max(0, cofactor?.[0] ?? 0)), outliers: 1 - last.weight / pixels.count }
}
