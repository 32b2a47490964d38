import type { DriveFigures, ModeFigures } from './drive-figures.ts'
import { type DrivenMotor, type DriveTrain, ratioOf, travelPerTurn, travelUnit } from './drive-train.ts'
import { modesOf } from './modes-of.ts'
import { type Reversal, reversalOf } from './reversal-of.ts'

/** Resolution of one step mode at the carriage, in the travel's unit. */
export interface ModeTravel {
  readonly microsteps: number
  /** Commands for one turn of the output's shaft. */
  readonly commandsPerOutputTurn: number
  /** Commands for 1 mm (rotary: 1°) of travel. */
  readonly commandsPerUnit: number
  readonly nominal: number
  /** Travel per full step over the effective count; low and high from the count's own interval; null without figures. */
  readonly effective: { readonly value: number; readonly low: number; readonly high: number } | null
  /** Travel of the largest measured increment; null without figures. */
  readonly guaranteed: number | null
  readonly verdict: 'holds' | 'fails' | 'not proven' | null
}

export interface Travel {
  readonly kind: 'travel'
  readonly train: string
  readonly unit: 'mm' | 'deg'
  /** Motor turns per output turn. */
  readonly ratio: number
  readonly perOutputTurn: number
  readonly perMotorTurn: number
  readonly perFullStep: number
  /** Carriage travel per degree at the motor's shaft. */
  readonly perMotorDegree: number
  readonly fullStepsPerOutputTurn: number
  readonly modes: readonly ModeTravel[]
  readonly reversal: Reversal
}

const effectiveTravel = (perFullStep: number, figures: ModeFigures | undefined): ModeTravel['effective'] =>
  figures?.effective
    ? {
        value: perFullStep / figures.effective.value,
        low: perFullStep / figures.effective.high,
        high: perFullStep / figures.effective.low,
      }
    : null

/**
 * What one full step, one microstep, one effective microstep and the largest measured microstep move at the carriage,
 * for every mode that divides N. Travel per full step = travel per output turn / (S·ratio); divided by N for the nominal
 * figure and by the effective count for the effective one. Backlash adds to the reversal only.
 * @throws RangeError when S or N is not a positive whole number.
 */
export const travelOf = (train: DriveTrain, motor: DrivenMotor, figures?: DriveFigures): Travel => {
  const ratio = ratioOf(train.reductions)
  const perOutputTurn = travelPerTurn(train.output)
  const fullStepsPerOutputTurn = motor.stepsPerRev * ratio
  const perFullStep = perOutputTurn / fullStepsPerOutputTurn
  const mode = (microsteps: number): ModeTravel => {
    const measured = figures?.modes.find((known) => known.microsteps === microsteps)
    const nominal = perFullStep / microsteps
    return {
      microsteps,
      commandsPerOutputTurn: fullStepsPerOutputTurn * microsteps,
      commandsPerUnit: 1 / nominal,
      nominal,
      effective: effectiveTravel(perFullStep, measured),
      guaranteed: typeof measured?.largestIncrement === 'number' ? measured.largestIncrement * nominal : null,
      verdict: measured?.verdict ?? null,
    }
  }
  return {
    kind: 'travel',
    train: train.name,
    unit: travelUnit(train.output),
    ratio,
    perOutputTurn,
    perMotorTurn: perOutputTurn / ratio,
    perFullStep,
    perMotorDegree: perOutputTurn / ratio / 360,
    fullStepsPerOutputTurn,
    modes: modesOf(motor).map(mode),
    reversal: reversalOf(train, figures?.reversalDeg ?? null),
  }
}
