import type { Contribution } from '#core/rig/budget'
import { cycleWander, wanderSentence } from './cycle-wander.ts'
import { isGross, lostCommand } from './lost-steps.ts'
import { noRigFaults, type RigFaults, rigFaults } from './rig-faults.ts'
import { isOfPaper, type ShiftOnTheWay, shiftOnTheWay, shiftSentence } from './shift-on-the-way.ts'

export interface SlowFaultOptions {
  readonly stepsPerRev: number
  readonly microsteps: number
  /** Of rests 0 … K. */
  readonly commands: readonly number[]
  /** Degrees of a dial's turn; null along a scale or wall. */
  readonly turnDeg: number | null
  /** Standard uncertainty of one mark, deg. */
  readonly uDeg: number
  /** Marks stand in the order in which they were made. */
  readonly ordered: boolean
  /** One run in a known order, in which a shift has a place. */
  readonly oneRun: boolean
  /** The lengths were measured as chords. */
  readonly chords: boolean
}

/** What no motor in step does: who did it, and what is taken off for it. */
export interface SlowFaults {
  readonly faults: RigFaults
  /** What the marks wander by from cycle to cycle; empty where they do not. */
  readonly wander: readonly Contribution[]
  /** A command went missing on the way to the motor, or was made twice: what repeats is told from neither side of it. */
  readonly lost: boolean
  readonly warnings: readonly string[]
}

/** Paper that moved; null where none did, or where a command that was lost explains it as well. */
const movedPaper = (errorsDeg: readonly number[], lost: boolean, { stepsPerRev, microsteps, turnDeg, uDeg }: SlowFaultOptions): ShiftOnTheWay | null => {
  const microstepDeg = 360 / stepsPerRev / microsteps
  const shift = shiftOnTheWay(errorsDeg, { microsteps, perTurn: turnDeg === null ? null : Math.round(turnDeg / microstepDeg), uDeg })
  return shift && (!lost || isOfPaper(shift, microstepDeg)) ? shift : null
}

/**
 * Tells apart what goes on slowly through a run: paper or pointer that moved, commands that were lost, waves of the dial, and
 * what is left of neither. Waves are taken off over a whole turn, unless the paper moved; nothing else is.
 * @param asMarkedDeg rests 0 … K
 * @param errorsDeg e_0 … e_K, the rig's lengths settled
 */
export const slowFaults = (asMarkedDeg: readonly number[], errorsDeg: readonly number[], options: SlowFaultOptions): SlowFaults => {
  const { stepsPerRev, microsteps, commands, turnDeg, uDeg, ordered, oneRun, chords } = options
  const microstepDeg = 360 / stepsPerRev / microsteps
  const gross = isGross(asMarkedDeg, commands, { microsteps, microstepDeg })
  const miscounted = lostCommand(asMarkedDeg, commands, { microsteps, microstepDeg })
  const shift = oneRun && !gross && !chords ? movedPaper(errorsDeg, miscounted.length > 0, options) : null
  const lost = shift ? [] : miscounted
  const faults = shift ? noRigFaults(errorsDeg) : rigFaults(errorsDeg, { stepsPerRev, microsteps, goesRound: turnDeg !== null })
  const wholeTurn = turnDeg !== null && (errorsDeg.length - 1) * microstepDeg > turnDeg - microstepDeg / 2 && !shift
  const wanders = chords || (lost.length === 0 && (ordered || !wholeTurn))
  const left = wholeTurn ? errorsDeg.map((error, k) => error - (faults.correctionDeg[k] ?? 0)) : errorsDeg
  const wander = wanders ? cycleWander(left, { microsteps, uDeg, chords }) : []
  const slow = shift ? shiftSentence(shift, commands) : wanderSentence(wander, { chords, wholeTurn })
  return { faults, wander, lost: lost.length > 0, warnings: [...(gross ? [] : lost), ...slow] }
}
