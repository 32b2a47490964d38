import { type FitOptions, type FittedMotor, fitMotor } from '#core/motor/fit-motor'
import type { MotorTrace } from '#core/motor/folded-pattern'
import { markRests } from '#core/motor/mark-rests'
import type { RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'

export interface TraceOptions {
  readonly seed: number
  /** Last command; 96 unless given. */
  readonly last?: number
  readonly bothWays?: boolean
  /** u in microsteps; 0.1 unless given. */
  readonly u?: number
  readonly toothScatterDeg?: number
}

/** A simulated trace of a motor with marks of u = 0.1 microstep, there or there and back. */
export const simulatedTrace = (motor: RestModel, { seed, last = 96, bothWays = false, u = 0.1, toothScatterDeg = 0 }: TraceOptions): MotorTrace => {
  const { stepsPerRev, microsteps } = motor
  const there = Array.from({ length: last + 1 }, (_, k) => k)
  const commands = bothWays ? [...there, ...there.toReversed()] : there
  const uDeg = (u * 360) / stepsPerRev / microsteps
  const rests = simulateRests(motor, { commands, settleCycles: 1 })
  const anglesDeg = Array.from(markRests(rests, commands, { uDeg, toothScatterDeg, stepsPerRev, microsteps, seed }))
  const directions = commands.map((_, i): 1 | -1 => (i <= last ? 1 : -1))
  return { stepsPerRev, microsteps, commands, anglesDeg, directions, passes: commands.map(() => 1), uDeg }
}

/** The fit of a trace that can be fitted. */
export const fitted = (trace: MotorTrace, options: FitOptions): FittedMotor => {
  const result = fitMotor(trace, options)
  if (result.kind === 'unmeasurable') throw new Error(result.what)
  return result
}
