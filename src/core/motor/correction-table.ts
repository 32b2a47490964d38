import { effectiveCount } from '#core/figures/effective-microsteps'
import type { FittedMotor, FittedRests } from './fit-motor.ts'
import { thin } from './predict.ts'
import { steadyCycle } from './steady-cycle.ts'

/** One command of the electrical cycle and the phase to give the currents instead. */
export interface CorrectionRow {
  /** 0 … 4N−1, counted from command 0 of the trace. */
  readonly command: number
  /** 90°·command/N, electrical degrees after command 0. */
  readonly nominalPhaseDeg: number
  /** To be added to the nominal phase, electrical degrees. */
  readonly offsetDeg: number
}

export interface CorrectionTable {
  readonly kind: 'correction table'
  readonly microsteps: number
  /** The direction the table is for: friction shifts the other one as a whole. */
  readonly direction: 1 | -1
  readonly rows: readonly CorrectionRow[]
  /** Predicted effective microsteps of this mode before and after, 95 % low ends beside the values. Predictions, not measurements. */
  readonly before: { readonly value: number; readonly low: number }
  readonly after: { readonly value: number; readonly low: number }
}

/** Why no table is given, a sentence, and what would change that. */
export interface Withheld {
  readonly kind: 'withheld'
  readonly reason: string
}

export interface CorrectionOptions {
  /** N of the table; that of the trace unless given. */
  readonly microsteps?: number
}

/** Parts a command is divided into when looking for the phase that brings the shaft to its place: at least 4, at least 1024 to a cycle. */
const partsOf = (microsteps: number): number => Math.max(4, Math.ceil(256 / microsteps))
/** A table must promise at least this much more, or it is not worth a line of firmware. */
const WORTHWHILE = 1.1

const mean = (values: ArrayLike<number>): number => {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i] as number
  return sum / values.length
}

/** Rest errors by finely divided command, about their mean, radians; index i stands for phase 2π·i/length. */
const fineErrors = (parameters: readonly number[], microsteps: number, direction: 1 | -1): Float64Array => {
  const errors = steadyCycle(parameters, 4 * microsteps * partsOf(microsteps), direction).error
  const centre = mean(errors)
  return errors.map((error) => error - centre)
}

const around = (fine: Float64Array, i: number): number => fine[((i % fine.length) + fine.length) % fine.length] as number

/** The phase, rad, whose rest lies nearest to `target`, looked for within half a cycle, and how far off the nearest tried one is. */
const nearestPhase = (fine: Float64Array, target: number): { phase: number; miss: number } => {
  const turn = (2 * Math.PI) / fine.length
  const centre = Math.round(target / turn)
  const missAt = (i: number): number => turn * i + around(fine, i) - target
  let best = centre
  for (let i = centre - fine.length / 4; i <= centre + fine.length / 4; i++) if (Math.abs(missAt(i)) < Math.abs(missAt(best))) best = i
  const miss = missAt(best)
  const slope = 1 + (around(fine, best + 1) - around(fine, best - 1)) / (2 * turn)
  return { phase: turn * best - (slope > 0.05 && Math.abs(miss) < 2 * turn ? miss / slope : 0), miss }
}

/** Rest errors of the motor with these fine errors given a list of phases (rad, one electrical cycle, rising) instead of even ones. */
const errorsWithPhases = (fine: Float64Array, phases: readonly number[]): readonly number[] => {
  const turn = (2 * Math.PI) / fine.length
  return phases.map((phase, k) => {
    const place = Math.floor(phase / turn)
    const part = phase / turn - place
    return phase + (1 - part) * around(fine, place) + part * around(fine, place + 1) - (2 * Math.PI * k) / phases.length
  })
}

const countOf = (errors: readonly number[], excess: number): number => {
  const centre = mean(errors)
  const square = mean(errors.map((error) => (error - centre) ** 2)) + excess
  return effectiveCount(errors.length / 4, square, 0, (2 * Math.PI) / errors.length)
}

/** Count promised by the fitted motor, its fine errors first, and by the sampled ones. */
const spreadOf = ([best, ...sampled]: readonly [Float64Array, ...Float64Array[]], phases: readonly number[], { excessVariance }: FittedRests): { value: number; low: number } => {
  const counts = sampled.map((fine) => countOf(errorsWithPhases(fine, phases), excessVariance))
  const value = countOf(errorsWithPhases(best, phases), excessVariance)
  const lowest = counts.sort((a, b) => a - b)[Math.floor(0.025 * counts.length)] ?? value
  return { value, low: Math.min(lowest, value) }
}

/** Reasons that make a table pointless whatever it would promise. */
const pointless = ({ motorFit, fitted }: FittedMotor, microsteps: number): string | null => {
  const microstep = Math.PI / 2 / microsteps
  const scatter = Math.sqrt(fitted.excessVariance)
  if (scatter > microstep / 4)
    return `The rests stand ${(scatter / microstep).toFixed(2)} of a microstep off the fitted pattern beyond what their marks leave open, for they scatter from cycle to cycle or the model does not describe them; a table made from it cannot mend that. A second pass shows which.`
  if (motorFit.finding.cause === 'even') return 'The marks show no unevenness that a table could take out.'
  if (motorFit.finding.cause === 'unexplained') return 'The model does not describe the pattern, so its table would be guesswork.'
  const friction = motorFit.friction?.value ?? 0
  if (2 * Math.asin(Math.min(friction, 1)) > microstep)
    return `Friction of ${friction.toFixed(2)} of holding torque holds forward and backward rests more than a microstep apart; no table mends both. Less friction or more current first.`
  return null
}

/**
 * Phase offsets per command of one electrical cycle that would even out this motor on a driver or firmware that takes a table: for each
 * command the phase whose rest the model puts on the even place, offsets' mean taken out. Withheld, with the reason, when repeatability or
 * friction makes it pointless, when a leap leaves places that no phase reaches, or when the promised gain is below a tenth.
 */
export const correctionTable = (motor: FittedMotor, options: CorrectionOptions = {}): CorrectionTable | Withheld => {
  const { fitted } = motor
  const microsteps = options.microsteps ?? fitted.microsteps
  const reason = pointless(motor, microsteps)
  if (reason !== null) return { kind: 'withheld', reason }
  const direction = fitted.directions[0] ?? 1
  const fine = fineErrors(fitted.parameters, microsteps, direction)
  const nominal = Array.from({ length: 4 * microsteps }, (_, k) => (Math.PI / 2) * (k / microsteps))
  const found = nominal.map((target) => nearestPhase(fine, target))
  const unreached = found.filter(({ miss }) => Math.abs(miss) > Math.PI / 8 / microsteps).length
  if (unreached > 0)
    return { kind: 'withheld', reason: `The shaft leaps over ${unreached} of ${nominal.length} places whatever the currents; a table cannot make it stop there. More current may end the leaps.` }
  const phases = found.map(({ phase }) => phase)
  const motors = [fine, ...thin(fitted.samples, 40).map((sample) => fineErrors(sample, microsteps, direction))] as const
  const before = spreadOf(motors, nominal, fitted)
  const after = spreadOf(motors, phases, fitted)
  if (after.low < WORTHWHILE * before.value)
    return { kind: 'withheld', reason: `A table would promise ${after.value.toFixed(2)} effective microsteps (at least ${after.low.toFixed(2)}) against ${before.value.toFixed(2)} without: not worth it. Better marks would make a better table.` }
  const shift = mean(phases.map((phase, k) => phase - (nominal[k] as number)))
  const degreesOf = (angle: number): number => (angle * 180) / Math.PI
  const rows = phases.map((phase, command) => ({
    command,
    nominalPhaseDeg: degreesOf(nominal[command] as number),
    offsetDeg: degreesOf(phase - (nominal[command] as number) - shift),
  }))
  return { kind: 'correction table', microsteps, direction, rows, before, after }
}
