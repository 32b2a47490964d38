import { mean } from '#core/numeric/moments'
import type { Contribution } from '#core/rig/budget'
import { lostIn } from './lost-steps.ts'
import { evaluateTurnWaves, type Harmonic, harmonicsOf } from './harmonics.ts'

/** Errors of the rig found over a full turn and taken off. */
export interface RigFaults {
  /** What to subtract from rests 0 … K, deg. */
  readonly correctionDeg: readonly number[]
  /** The waves taken off: order 1 of the turn is an off-centre pivot, order 2 a tilted camera or paper. */
  readonly removed: readonly Harmonic[]
  /** What is left over and shared by neighbours. */
  readonly contributions: readonly Contribution[]
}

export interface RigFaultOptions {
  readonly stepsPerRev: number
  readonly microsteps: number
  /** The rig goes round (pointer): only then do its faults repeat once or twice per turn. */
  readonly goesRound: boolean
}

/** Nothing found, nothing taken off. */
export const noRigFaults = (errorsDeg: readonly number[]): RigFaults => ({ correctionDeg: errorsDeg.map(() => 0), removed: [], contributions: [] })

/**
 * Once- and twice-per-turn errors belong to the rig, since the motor's own pattern repeats S/4 times per turn. Over a
 * full turn both are fitted, and removed where significant; what their fit leaves open is a common contribution.
 * Over less than a turn nothing is removed.
 */
export const rigFaults = (errorsDeg: readonly number[], { stepsPerRev, microsteps, goesRound }: RigFaultOptions): RigFaults => {
  const perTurn = stepsPerRev * microsteps
  const commands = errorsDeg.length - 1
  const none = noRigFaults(errorsDeg)
  if (!goesRound || commands < perTurn || stepsPerRev < 20) return none
  if (lostIn(errorsDeg.map((error, k) => error + (360 / perTurn) * k), { microsteps, microstepDeg: 360 / perTurn })) return none
  const fitted = harmonicsOf(errorsDeg, { stepsPerRev, microsteps, withTurn: true, only: 'turn' })
  if (fitted.length === 0) return none
  const removed = fitted.filter(({ significant }) => significant)
  const wave = evaluateTurnWaves(removed, commands, perTurn)
  const offset = mean(wave.slice(1))
  const left = Math.hypot(...fitted.map(({ standardErrorDeg }) => standardErrorDeg)) / Math.SQRT2
  return {
    correctionDeg: wave.map((value) => value - offset),
    removed,
    contributions: left > 0 ? [{ source: 'rig harmonics left over', uDeg: left, kind: 'common', degreesOfFreedom: null, note: 'what the fit of once and twice per turn leaves open' }] : [],
  }
}
