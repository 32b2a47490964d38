import type { DrivenMotor, DriveTrain } from './drive-train.ts'
import { type InertiaPart, inertiaOf } from './inertia-of.ts'
import type { Load } from './load.ts'
import { commandsBeforeMotion, lagDeg, microstepTorqueShare, springStiffness } from './magnetic-spring.ts'
import { modesOf } from './modes-of.ts'
import { type PullOutPoint, pullOutAt, rateForTorque } from './pull-out.ts'
import { rateFor, speedAt } from './speed-of.ts'
import { type StageTorque, torqueChain } from './torque-chain.ts'
import { travelOf } from './travel-of.ts'

/** Torque data of the motor; null or empty where not known. */
export interface TorqueData {
  readonly holdingNm: number | null
  readonly rotorInertiaKgM2: number | null
  /** Full-step rates and torques. */
  readonly pullOut: readonly PullOutPoint[]
}

export interface ModeTorque {
  readonly microsteps: number
  /** Torque behind one microstep, N·m: sin(90°/N) of holding torque. */
  readonly perMicrostepNm: number
  /** Commands given before the load moves at all, from rest. */
  readonly commandsBeforeMotion: number
}

export interface Dynamics {
  readonly kind: 'dynamics'
  readonly inertia: readonly InertiaPart[]
  readonly inertiaKgM2: number
  readonly torques: readonly StageTorque[]
  /** Full steps per second for the wanted speed. */
  readonly fullStepRate: number
  /** Pull-out torque at that rate, N·m; null when not known there. */
  readonly pullOutNm: number | null
  /** Pull-out (or, at zero speed, holding) torque over the torque needed while accelerating; null when either is not known. */
  readonly torqueMargin: number | null
  /** Carriage speed up to which the pull-out curve covers the torque needed while accelerating; null without points. */
  readonly highestSpeed: number | null
  /** N·m per rad of shaft; null without holding torque. */
  readonly stiffness: number | null
  /** Carriage behind its commanded place under the steady load, in the travel's unit; null without holding torque or when it slips. */
  readonly lag: number | null
  readonly modes: readonly ModeTorque[]
}

const marginOf = (available: number | null, needed: number): number | null =>
  available === null || needed <= 0 ? null : available / needed

const modeTorques = (motor: DrivenMotor, holdingNm: number, steadyNm: number): readonly ModeTorque[] =>
  modesOf(motor).map((microsteps) => ({
    microsteps,
    perMicrostepNm: holdingNm * microstepTorqueShare(microsteps),
    commandsBeforeMotion: commandsBeforeMotion(steadyNm / holdingNm, microsteps),
  }))

/** Everything about force and speed between motor and carriage: inertia, torque at each stage against what the motor has, lag. */
export const dynamicsOf = (train: DriveTrain, motor: DrivenMotor, load: Load, data: TorqueData): Dynamics => {
  const travel = travelOf(train, motor)
  const inertia = inertiaOf(train, load.massKg)
  const torques = torqueChain(train, load, data.rotorInertiaKgM2 ?? 0)
  const [shaft] = torques
  const steadyNm = shaft?.steadyNm ?? 0
  const fullStepRate = rateFor(travel, load.speed, 1)
  const pullOutNm = pullOutAt(data.pullOut, fullStepRate)
  const highestRate = rateForTorque(data.pullOut, shaft?.acceleratingNm ?? 0)
  const holding = data.holdingNm
  const lag = holding === null ? null : lagDeg(steadyNm, { holdingNm: holding, stepsPerRev: motor.stepsPerRev })
  return {
    kind: 'dynamics',
    inertia,
    inertiaKgM2: inertia.reduce((sum, { kgM2 }) => sum + kgM2, data.rotorInertiaKgM2 ?? 0),
    torques,
    fullStepRate,
    pullOutNm,
    torqueMargin: marginOf(pullOutNm ?? (load.speed === 0 ? holding : null), shaft?.acceleratingNm ?? 0),
    highestSpeed: highestRate === null ? null : speedAt(travel, highestRate, 1),
    stiffness: holding === null ? null : springStiffness(holding, motor.stepsPerRev),
    lag: lag === null ? null : lag * travel.perMotorDegree,
    modes: holding === null ? [] : modeTorques(motor, holding, steadyNm),
  }
}
