import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import type { Random } from './random.ts'

/** A commanded run and where the shaft came to rest, deg, growing with the command. */
export interface Run {
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly fullTurn: boolean
  readonly model: RestModel
  /** Rest angle after command 0 … K, the first one 0. */
  readonly restsDeg: readonly number[]
}

/** Rests of a model over K commands after one settling cycle. */
export const runModel = (model: RestModel, commands: number): Run => {
  const rests = simulateRests(model, { commands: Array.from({ length: commands + 1 }, (_, k) => k), settleCycles: 1 })
  const first = rests[0] ?? 0
  const { stepsPerRev, microsteps } = model
  return { stepsPerRev, microsteps, fullTurn: commands === stepsPerRev * microsteps, model, restsDeg: Array.from(rests, (r) => r - first) }
}

/** A motor like those that come out of skips: small faults, or (bunching) detent that swallows microsteps. */
export const chooseModel = (random: Random, stepsPerRev: number, microsteps: number, bunching: boolean): RestModel => ({
  ...evenMotor(stepsPerRev, microsteps),
  detent2: bunching ? random.range(0.1, 0.25) : random.range(0, 0.04),
  detent2PhaseDeg: random.range(-60, 60),
  detent4: bunching ? -random.range(0.2, 0.4) : random.range(-0.06, 0.06),
  detent4PhaseDeg: random.range(-40, 40),
  imbalance: random.range(-0.08, 0.08),
  offsetA: random.range(-0.03, 0.03),
  offsetB: random.range(-0.03, 0.03),
  friction: random.range(0.005, 0.04),
  startPhaseDeg: random.pick([0, 45]),
})

const FULL_TURNS = [[20, 1], [20, 2], [20, 4], [24, 1], [24, 2], [24, 4], [48, 1], [48, 2], [48, 4], [100, 1], [200, 1], [100, 2]] as const
const ARCS = [[48, 4], [48, 8], [24, 8], [200, 1], [200, 2], [200, 4], [100, 4], [20, 16], [200, 4]] as const

export interface RunWish {
  readonly fullTurn: boolean
  readonly bunching: boolean
  /** Least nominal distance between neighbours, deg. */
  readonly leastDeg: number
}

/** A run whose nominal steps are wide enough to be marked by hand. */
export const chooseRun = (random: Random, wish: RunWish): Run => {
  const wide = (wish.fullTurn ? FULL_TURNS : ARCS).filter(([s, n]) => 360 / (s * n) >= wish.leastDeg)
  const [stepsPerRev, microsteps] = random.pick(wide.length > 0 ? wide : [[24, 1] as const])
  const model = chooseModel(random, stepsPerRev, microsteps, wish.bunching && microsteps >= 4)
  const cycles = Math.max(2, Math.min(Math.floor(stepsPerRev / 4) - 1, Math.round((random.range(40, 130) / 360) * (stepsPerRev / 4))))
  return runModel(model, wish.fullTurn ? stepsPerRev * microsteps : 4 * microsteps * cycles)
}
