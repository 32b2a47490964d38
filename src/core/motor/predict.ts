import type { Interval } from '#core/figures/effective-interval'
import { effectiveCount } from '#core/figures/effective-microsteps'
import { quantileOfSorted } from '#core/numeric/moments'
import type { FittedRests } from './fit-motor.ts'
import { leaps, steadyCycle } from './steady-cycle.ts'

/** What a mode that was not measured should give, from the fitted model. Never a measurement. */
export interface Prediction {
  readonly kind: 'prediction'
  readonly microsteps: number
  readonly effectiveMicrosteps: Interval
}

export interface PredictOptions {
  /** Parameter samples simulated per mode; 200 unless given. */
  readonly samples?: number
}

const mean = (values: ArrayLike<number>): number => {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i] as number
  return sum / values.length
}

/** Mean square error about its mean over one settled cycle of each direction travelled, electrical rad². */
const meanSquareError = (parameters: readonly number[], phases: number, directions: readonly (1 | -1)[]): number =>
  mean(
    directions.map((direction) => {
      const { error } = steadyCycle(parameters, phases, direction)
      const centre = mean(error)
      return mean(error.map((value) => (value - centre) ** 2))
    }),
  )

/** Every m-th of a list, about `count` of them. */
export const thin = <T>(list: readonly T[], count: number): readonly T[] => {
  const stride = Math.max(1, Math.floor(list.length / count))
  return list.filter((_, i) => i % stride === 0)
}

/**
 * Mean square error of a mode with its 95 % interval. In a smooth motor chance in the parameters can only add unevenness, so the samples
 * lie above the fit on average by `bias`, and the fit above the truth by as much again: both are taken off. In a leaping one the error
 * goes up and down in steps as the leaps change place, and the truth may sit on the edge of what is possible: there the
 * value is the median of the samples and the outermost are the ends (wider than 95 %).
 */
const squareInterval = (fitted: FittedRests, microsteps: number, samples: number): Interval => {
  const squareOf = (parameters: readonly number[]): number => meanSquareError(parameters, 4 * microsteps, fitted.directions)
  const best = squareOf(fitted.parameters)
  const drawn = thin(fitted.samples, samples).map(squareOf).sort((a, b) => a - b)
  if (leaps(fitted.parameters)) return { value: quantileOfSorted(drawn, 0.5), low: Math.min(best, ...drawn), high: Math.max(best, ...drawn) }
  const bias = mean(drawn) - best
  const value = Math.max(0, best - bias)
  const ends = [0.025, 0.975].map((share) => Math.max(0, quantileOfSorted(drawn, share) - 2 * bias))
  return { value, low: Math.min(value, ...ends), high: Math.max(value, ...ends) }
}

const predictMode = (fitted: FittedRests, microsteps: number, samples: number): Prediction => {
  const square = squareInterval(fitted, microsteps, samples)
  const count = (meanSquare: number): number => effectiveCount(microsteps, meanSquare + fitted.excessVariance, 0, Math.PI / 2 / microsteps)
  return { kind: 'prediction', microsteps, effectiveMicrosteps: { value: count(square.value), low: count(square.high), high: count(square.low) } }
}

/**
 * Effective microsteps of modes that were not measured, each with a 95 % interval from the fit's parameter samples: every
 * sample's motor is stepped through a settled electrical cycle at that mode, in the directions of the trace (each about its own
 * mean, as effective counts are computed). What did not repeat in the trace is added to the error; the marks' own u is not. Rests on
 * the model: a current profile that a driver draws differently at another mode is not in it.
 */
export const predictModes = (fitted: FittedRests, modes: readonly number[], { samples = 200 }: PredictOptions = {}): readonly Prediction[] => {
  const wrong = modes.find((mode) => !Number.isInteger(mode) || mode < 1)
  if (wrong !== undefined) throw new RangeError(`modes must be whole numbers of at least 1, got ${wrong}`)
  return modes.map((microsteps) => predictMode(fitted, microsteps, samples))
}

/** The usual modes finer than the one measured, up to 1/32 (one more doubling where the trace is already that fine). */
export const modesToPredict = (microsteps: number): readonly number[] => {
  const finer = [8, 16, 32].filter((mode) => mode > microsteps)
  return finer.length > 0 ? finer : [2 * microsteps]
}
