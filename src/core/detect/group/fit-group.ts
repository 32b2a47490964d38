import { nthSmallest } from '#core/numeric/nth-smallest'
import { factorPacked, solvePacked } from '#core/numeric/packed-cholesky'
import { GROUND, type GroupState, type GroupSystem, groupSystem, strokePlace } from './group-system.ts'
import { amplitudeOf } from './ink-law.ts'
import type { GroupFrame, GroupPixels, GroupStroke, Pen } from './stroke-group.ts'

export interface GroupFit {
  readonly strokes: readonly GroupStroke[]
  /** Brightness of the paper between and beside them, grey levels. */
  readonly paper: number
  /** Mean of the squared residuals, each counted up to the cut: grey levels². */
  readonly cost: number
  /** rms of what the model leaves, outliers down-weighted. */
  readonly noise: number
  readonly residuals: Float64Array
  /** The last round's normal equations, factored: see offsetDoubts. */
  readonly lower: Float64Array
}

const ROUNDS = 6
const SETTLED = 0.02
/** Tukey's cut in noises, and no less than this share of the usual darkness. */
const CUT = 5
const LEAST_CUT = 0.8
/** How far a hand-drawn mark's direction scatters about the shaft, rad (common practice, no source). */
const LEAN = 0.035

const clamp = (value: number, limit: number): number => Math.max(-limit, Math.min(limit, value))

const startGround = (pixels: GroupPixels): number[] => [nthSmallest(pixels.grey.slice(), Math.floor(0.9 * pixels.count)), 0, 0]

const medianAbsolute = (values: Float64Array): number => {
  return Math.max(0.3, nthSmallest(values.map(Math.abs), values.length >> 1) / 0.6745)
}

/** Weak expectations: strokes aim at the shaft, and are about as dark as usual. */
const expect = ({ size, lower, right }: GroupSystem, { strokes }: GroupState, noise: number, { halfLength, radius }: GroupFrame, usual: number): void => {
  const pull = (place: number, off: number, spread: number): void => {
    const weight = (noise / spread) ** 2
    lower[place * size + place] = (lower[place * size + place] as number) + weight
    right[place] = (right[place] as number) - weight * off
  }
  strokes.forEach(({ offset, lean, amplitudes }, j) => {
    const place = strokePlace(j, amplitudes.length)
    pull(place, 0, 3)
    pull(place + 1, lean - (offset * halfLength) / radius, LEAN * halfLength + 0.1)
    amplitudes.forEach((a, k) => pull(place + 2 + k, a - 0.7 * usual, 0.6 * usual))
  })
  for (let i = 0; i < GROUND; i++) lower[i * size + i] = (lower[i * size + i] as number) + 1e-9
}

const moved = (state: GroupState, step: Float64Array): GroupState => ({
  ground: state.ground.map((g, i) => g + (step[i] as number)),
  strokes: state.strokes.map(({ offset, lean, amplitudes }, j) => {
    const place = strokePlace(j, amplitudes.length)
    return {
      offset: offset + clamp(step[place] as number, 1.2),
      lean: lean + clamp(step[place + 1] as number, 1.2),
      amplitudes: amplitudes.map((a, k) => Math.max(0, a + (step[place + 2 + k] as number))),
    }
  }),
})

const costOf = ({ residuals }: GroupSystem, { weight }: GroupPixels, cut: number): number => {
  let sum = 0
  let all = 0
  residuals.forEach((residual, i) => {
    const w = weight[i] as number
    sum += w * Math.min(residual * residual, (cut * cut) / 3)
    all += w
  })
  return sum / Math.max(1, all)
}

/**
 * Least squares of strokes side by side in one piece of the ring, all drawn by one pen: offsets, leans and darkness at each
 * knot together with the paper's brightness, by Gauss–Newton steps with Tukey's weights.
 * @param usual share of the light that a mark's ink takes
 * @returns null when the system is singular or there are too few pixels
 */
export const fitGroup = (pixels: GroupPixels, starts: readonly GroupStroke[], frame: GroupFrame, pen: Pen, usual: number): GroupFit | null => {
  let state: GroupState = { ground: startGround(pixels), strokes: starts }
  const dark = amplitudeOf(usual, pen, state.ground[0] as number)
  let noise = 0.2 * dark
  for (let round = 0; round < ROUNDS; round++) {
    const system = groupSystem(pixels, state, pen, Math.max(CUT * noise, LEAST_CUT * dark))
    noise = medianAbsolute(system.residuals)
    expect(system, state, noise, frame, usual)
    if (!factorPacked(system.lower, system.size)) return null
    const step = solvePacked(system.lower, system.right)
    state = moved(state, step)
    if (starts.every((s, j) => Math.abs(step[strokePlace(j, s.amplitudes.length)] as number) < SETTLED)) break
  }
  const cut = Math.max(CUT * noise, LEAST_CUT * dark)
  const system = groupSystem(pixels, state, pen, cut)
  expect(system, state, noise, frame, usual)
  if (!factorPacked(system.lower, system.size) || system.weight <= system.size) return null
  const rms = Math.sqrt(system.sum / (system.weight - system.size))
  return {
    strokes: state.strokes,
    paper: state.ground[0] as number,
    cost: costOf(system, pixels, LEAST_CUT * dark),
    noise: rms,
    residuals: system.residuals,
    lower: system.lower,
  }
}

/** Standard uncertainty of each stroke's offset from white noise, its neighbours' doubt included, px. */
export const offsetDoubts = ({ strokes, lower, noise }: GroupFit): number[] =>
  strokes.map(({ amplitudes }, j) => {
    const place = strokePlace(j, amplitudes.length)
    const unit = new Float64Array(strokePlace(strokes.length, amplitudes.length))
    unit[place] = 1
    const column = solvePacked(lower, unit)
    return noise * Math.sqrt(Math.max(0, column[place] ?? 0))
  })
