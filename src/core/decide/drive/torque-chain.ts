import { type DriveTrain, type Output, travelPerTurn } from './drive-train.ts'
import { type Load, steadyForce } from './load.ts'

/** Torque going into one stage at its driving side, N·m: held still (no acceleration) and while accelerating. */
export interface StageTorque {
  readonly stage: string
  readonly steadyNm: number
  readonly acceleratingNm: number
  /** Turning speed of that side at the wanted speed, rev/min. */
  readonly revPerMin: number
}

/** Metres (or radians, rotary) of output per radian of the output's shaft. */
const leverOf = (output: Output): number =>
  output.kind === 'rotary' ? 1 : travelPerTurn(output) / 1000 / (2 * Math.PI)

const outputTorque = (output: Output, load: Load): StageTorque => {
  const lever = leverOf(output)
  const perTurn = travelPerTurn(output)
  const shaftAcceleration = (load.acceleration / perTurn) * 2 * Math.PI
  const mass = output.kind === 'rotary' ? 0 : (load.massKg * load.acceleration) / 1000
  const force = output.kind === 'rotary' ? load.force : steadyForce(load)
  return {
    stage: output.kind,
    steadyNm: (force * lever) / output.efficiency,
    acceleratingNm: ((force + mass) * lever) / output.efficiency + output.inertiaKgM2 * shaftAcceleration,
    revPerMin: (load.speed / perTurn) * 60,
  }
}

/**
 * Torque and turning speed from the carriage back to the motor's shaft, motor side first; each stage divides by its ratio and
 * its efficiency and adds the inertia on its driven side. The first entry is the motor's shaft with the rotor's own inertia.
 */
export const torqueChain = (train: DriveTrain, load: Load, rotorInertiaKgM2 = 0): readonly StageTorque[] => {
  const perTurn = travelPerTurn(train.output)
  let side = outputTorque(train.output, load)
  let acceleration = (load.acceleration / perTurn) * 2 * Math.PI
  const chain = [side]
  for (const stage of train.reductions.toReversed()) {
    const ratio = stage.drivenTeeth / stage.drivingTeeth
    side = {
      stage: `${stage.kind} ${stage.drivenTeeth}:${stage.drivingTeeth}`,
      steadyNm: side.steadyNm / (ratio * stage.efficiency),
      acceleratingNm: (side.acceleratingNm + stage.inertiaKgM2 * acceleration) / (ratio * stage.efficiency),
      revPerMin: side.revPerMin * ratio,
    }
    acceleration *= ratio
    chain.push(side)
  }
  const motor = { ...side, stage: 'motor', acceleratingNm: side.acceleratingNm + rotorInertiaKgM2 * acceleration }
  return [motor, ...chain.toReversed()]
}
