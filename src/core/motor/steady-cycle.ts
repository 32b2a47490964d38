import { creep } from './creep.ts'
import type { TorqueCurve } from './torque-curve.ts'
import { torqueSlopeAt } from './torque-curve.ts'

/** One electrical cycle of a motor that has settled, by phase index 0 … P−1 (φ = 2π·index/P). */
export interface SteadyCycle {
  /** Rest angle less commanded angle, rad, zero of the scale not included. */
  readonly error: Float64Array
  /** +1 or −1 as the shaft came creeping up or down to this rest, 0 where it stayed where it was. */
  readonly way: Int8Array
}

/** Commands given in the cycle that only settles the shaft; coarse steps end at the same rests while the lag is below 90°. */
const SETTLING_COMMANDS = 8

/** Detent part of the torque for a parameter vector (see rest-parameters). */
const detentOf = (parameters: ArrayLike<number>): TorqueCurve => ({
  cos1: 0,
  sin1: 0,
  cos2: parameters[6] as number,
  sin2: parameters[5] as number,
  cos4: parameters[8] as number,
  sin4: parameters[7] as number,
})

const setCurrents = (curve: TorqueCurve, parameters: ArrayLike<number>, phi: number): void => {
  const c = Math.cos(phi)
  const s = Math.sin(phi)
  const unequalSin = (parameters[3] as number) / 2
  const unequalCos = (parameters[4] as number) / 2
  curve.sin1 = -c - (parameters[1] as number) + unequalSin * c - unequalCos * s
  curve.cos1 = s + (parameters[2] as number) + unequalSin * s + unequalCos * c
}

/**
 * Rest errors of one settled electrical cycle of `phases` commands, travelling in `direction`: one cycle is run first and
 * thrown away. Parameters as in rest-parameters; pure and fast, for fits that ask thousands of times.
 */
export const steadyCycle = (parameters: ArrayLike<number>, phases: number, direction: 1 | -1): SteadyCycle => {
  const curve = detentOf(parameters)
  const friction = parameters[9] as number
  const error = new Float64Array(phases)
  const way = new Int8Array(phases)
  const start = direction > 0 ? 0 : phases - 1
  const turn = (index: number): number => (2 * Math.PI * index) / phases
  const settling = Math.min(SETTLING_COMMANDS, phases)
  let x = turn(start) - direction * 2 * Math.PI
  for (let i = 0; i < settling; i++) {
    setCurrents(curve, parameters, turn(start) + direction * (turn((i * phases) / settling) - 2 * Math.PI))
    x = creep(curve, x, friction)
  }
  for (let i = 0; i < phases; i++) {
    const index = start + direction * i
    setCurrents(curve, parameters, turn(index))
    const rest = creep(curve, x, friction)
    way[index] = Math.sign(rest - x)
    error[index] = rest - turn(index)
    x = rest
  }
  return { error, way }
}

/** ∂T/∂parameter at a rest x under command phi, for the eight parameters that add torque (places 1 … 8). */
export const torqueTerms = (x: number, phi: number): readonly number[] => [
  -Math.sin(x),
  Math.cos(x),
  Math.sin(x + phi) / 2,
  Math.cos(x + phi) / 2,
  Math.sin(2 * x),
  Math.cos(2 * x),
  Math.sin(4 * x),
  Math.cos(4 * x),
]

/** Steepness below which a rest counts as a turning point, where derivatives no longer say anything. */
const FLAT = 0.02

/**
 * Derivatives of the rest errors by parameter: one array of P per place of the vector (`zero` included). A rest that was
 * reached keeps T = ±f as the parameters change; a shaft that stayed keeps the derivative of its last move.
 */
export const steadyCycleJacobian = (parameters: ArrayLike<number>, cycle: SteadyCycle, direction: 1 | -1): Float64Array[] => {
  const phases = cycle.error.length
  const curve = detentOf(parameters)
  const columns = Array.from({ length: 10 }, (_, place) => new Float64Array(phases).fill(place === 0 ? 1 : 0))
  for (let i = 0; i < 2 * phases; i++) {
    const index = direction > 0 ? i % phases : phases - 1 - (i % phases)
    const before = (index - direction + phases) % phases
    const way = cycle.way[index] as number
    if (i >= phases && way !== 0) break
    const phi = (2 * Math.PI * index) / phases
    setCurrents(curve, parameters, phi)
    const x = phi + (cycle.error[index] as number)
    const slope = Math.min(torqueSlopeAt(curve, x), -FLAT)
    const terms = torqueTerms(x, phi)
    for (let place = 1; place < 10; place++) {
      const column = columns[place] as Float64Array
      column[index] = way === 0 ? (column[before] as number) : place < 9 ? -(terms[place - 1] as number) / slope : way / slope
    }
  }
  return columns
}

/** Whether a motor of these parameters leaps: some command, however small, moves it by more than 10° of the electrical cycle. */
export const leaps = (parameters: ArrayLike<number>): boolean => {
  const { error } = steadyCycle(parameters, 256, 1)
  return error.some((value, i) => value - (error.at(i - 1) as number) > Math.PI / 18)
}
