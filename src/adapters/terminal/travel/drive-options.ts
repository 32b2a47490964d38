import type { Command } from 'commander'
import type { Requirement } from '#core/decide/drive/choose-drive'
import type { Coil } from '#core/decide/drive/coil'
import { type DriveTrain, type DrivenMotor, travelUnit } from '#core/decide/drive/drive-train'
import type { TorqueData } from '#core/decide/drive/dynamics-of'
import type { Load } from '#core/decide/drive/load'
import { speedAt } from '#core/decide/drive/speed-of'
import { readPullOut } from '#core/decide/drive/read-pull-out'
import { travelOf } from '#core/decide/drive/travel-of'
import type { QuantityKind } from '#core/quantity/quantity-kind'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { wrongUsage } from '#adapters/terminal/motor-options'
import { quantityOption } from '#adapters/terminal/quantity-option'
import type { TravelOptions } from '#adapters/terminal/travel-command'

const pullOutFrom = (text: string | undefined, command: Command): TorqueData['pullOut'] => {
  const points = readPullOut(text ?? '', '--pull-out')
  return isUnmeasurable(points) ? wrongUsage(command, sentenceOf(points)) : points
}

/** Torque data of the motor as the options give them. */
export const torqueData = (options: TravelOptions, command: Command): TorqueData => ({
  holdingNm: quantityOption(command, ['--holding', options.holding], 'torque'),
  rotorInertiaKgM2: quantityOption(command, ['--rotor-inertia', options.rotorInertia], 'inertia'),
  pullOut: pullOutFrom(options.pullOut, command),
})

/** Coil data as the options give them. */
export const coilData = (options: TravelOptions, command: Command): Coil => ({
  resistanceOhm: quantityOption(command, ['--coil-resistance', options.coilResistance], 'resistance'),
  inductanceH: quantityOption(command, ['--coil-inductance', options.coilInductance], 'inductance'),
  currentA: quantityOption(command, ['--current', options.current], 'current'),
})

const speedOf = (
  options: TravelOptions,
  command: Command,
  [train, motor]: readonly [DriveTrain, DrivenMotor],
): number => {
  const rate = quantityOption(command, ['--step-rate', options.stepRate], 'step rate')
  if (rate !== null && options.speed !== undefined) wrongUsage(command, 'give --speed or --step-rate, not both')
  if (rate !== null) return speedAt(travelOf(train, motor), rate, motor.microsteps)
  const linear = travelUnit(train.output) === 'mm'
  const speed = quantityOption(command, ['--speed', options.speed], linear ? 'speed' : 'turning speed') ?? 0
  return linear ? speed : speed * 6
}

/** The load of one train: linear outputs in mm and N, a rotary one in deg and N·m (its acceleration as deg/s²). */
export const loadOf = (
  options: TravelOptions,
  command: Command,
  [train, motor]: readonly [DriveTrain, DrivenMotor],
): Load => {
  const linear = travelUnit(train.output) === 'mm'
  const acceleration = linear
    ? quantityOption(command, ['--acceleration', options.acceleration], 'acceleration')
    : Number(options.acceleration ?? 0)
  return {
    massKg: quantityOption(command, ['--mass', options.mass], 'mass') ?? 0,
    force: quantityOption(command, ['--force', options.force], linear ? 'force' : 'torque') ?? 0,
    tiltDeg: quantityOption(command, ['--tilt', options.tilt], 'angle') ?? 0,
    acceleration: acceleration ?? 0,
    speed: speedOf(options, command, [train, motor]),
  }
}

/** What is asked of the machine; null when nothing is. */
export const requirementOf = (
  options: TravelOptions,
  command: Command,
  pair: readonly [DriveTrain, DrivenMotor],
): Requirement | null => {
  const kind: QuantityKind = travelUnit(pair[0].output) === 'mm' ? 'length' : 'angle'
  const [resolution, reversal, travel] = [
    quantityOption(command, ['--need-resolution', options.needResolution], kind),
    quantityOption(command, ['--need-reversal', options.needReversal], kind),
    quantityOption(command, ['--need-travel', options.needTravel], kind),
  ]
  if (resolution === null && reversal === null && travel === null) return null
  return { resolution, reversal, travel, load: loadOf(options, command, pair) }
}
