import { creep } from './creep.ts'
import type { RestModel } from './rest-model.ts'
import type { TorqueCurve } from './torque-curve.ts'

/** How the simulated motor is commanded. */
export interface RestRun {
  /** Commanded positions in the order given in time, each an index k (0 is the start mark; a return pass counts down). */
  readonly commands: readonly number[]
  /** Whole electrical cycles stepped beforehand, arriving at the first command; 0 starts at φ of the first command. */
  readonly settleCycles?: number
  /** Direction of that arrival; by default that of the first move. */
  readonly direction?: 1 | -1
}

const RAD = Math.PI / 180

/** T(x) of the motor before any current is set: detent only. */
const detentCurve = (motor: RestModel): TorqueCurve => ({
  cos1: 0,
  sin1: 0,
  cos2: motor.detent2 * Math.sin(motor.detent2PhaseDeg * RAD),
  sin2: motor.detent2 * Math.cos(motor.detent2PhaseDeg * RAD),
  cos4: motor.detent4 * Math.sin(motor.detent4PhaseDeg * RAD),
  sin4: motor.detent4 * Math.cos(motor.detent4PhaseDeg * RAD),
})

/** Sets the currents of electrical angle phi (rad) in the curve. */
const setCurrents = (curve: TorqueCurve, motor: RestModel, phi: number): void => {
  curve.sin1 = -(1 - motor.imbalance / 2) * (Math.cos(phi) + motor.offsetA)
  curve.cos1 = (1 + motor.imbalance / 2) * (Math.sin(phi) + motor.offsetB)
}

const requireModel = (motor: RestModel): void => {
  const whole = Number.isInteger(motor.microsteps) && motor.microsteps >= 1
  if (!whole) throw new RangeError(`microsteps must be a whole number of at least 1, got ${motor.microsteps}`)
  if (!(motor.stepsPerRev > 0)) throw new RangeError(`stepsPerRev must be positive, got ${motor.stepsPerRev}`)
  if (!(motor.friction >= 0)) throw new RangeError(`friction must be 0 or more, got ${motor.friction}`)
}

const arrivalDirection = (run: RestRun): 1 | -1 => {
  const [first = 0, second = first + 1] = run.commands
  return run.direction ?? (second < first ? -1 : 1)
}

/**
 * Rest angle of the shaft after each command of a run, degrees at the shaft, unwrapped, one per entry of `commands`:
 * the quasi-static two-phase model, exact to about 1e-10 degrees. Between two entries every command is given in turn, as a
 * driver does, so hysteresis and jumps come out as they would. Angle 0 is where electrical angle 0 would hold an even motor;
 * a start phase moves the whole trace by its share. Without `settleCycles` the shaft starts, held still, at the commanded
 * angle of the first command and creeps from there.
 */
export const simulateRests = (motor: RestModel, run: RestRun): Float64Array => {
  requireModel(motor)
  const curve = detentCurve(motor)
  const step = Math.PI / 2 / motor.microsteps
  const direction = arrivalDirection(run)
  let command = (run.commands[0] ?? 0) - direction * 4 * motor.microsteps * (run.settleCycles ?? 0)
  let x = motor.startPhaseDeg * RAD + step * command
  const obey = (next: number): void => {
    command = next
    setCurrents(curve, motor, motor.startPhaseDeg * RAD + step * command)
    x = creep(curve, x, motor.friction)
  }
  obey(command)
  return Float64Array.from(run.commands, (target) => {
    while (command !== target) obey(command + (target > command ? 1 : -1))
    return x / RAD / (motor.stepsPerRev / 4)
  })
}
