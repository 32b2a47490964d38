import type { Run } from '#core/assign/runs'
import type { Trace } from '#core/ingest/trace'
import { rms } from '#core/numeric/moments'
import { combined, type Contribution, coverageFactorFor, effectiveDegreesOfFreedom } from '#core/rig/budget'
import type { Located } from '#core/rig/locate'
import type { FigureInput } from './figures.ts'
import { incrementScaleU } from './increment-scale.ts'
import { creepWithin, type Passes } from './passes.ts'
import { positionErrors } from './position-errors.ts'
import type { RigFaults } from './rig-faults.ts'
import { contradictions, type SettledLength, settleLengths, withSettled } from './settle-lengths.ts'
import { settleMarks } from './settle-uncertainty.ts'
import { slowFaults } from './slow-faults.ts'

/** What is known of every rest beside its angle. */
export type Known = Omit<FigureInput, 'anglesDeg'> & {
  readonly coverageFactor: number
  /** Relative standard uncertainty of every increment from the rig's lengths; 0 where the trace's own cycles settled them. */
  readonly incrementScaleU: number
}

/** The mean run with the rig's own errors taken off. */
export interface Straight {
  /** Rests 0 … K, deg at the shaft, travel positive; jumps read first. */
  readonly anglesDeg: readonly number[]
  /** The same with jumps read last; the same array where every jump is known. */
  readonly lateDeg: readonly number[]
  /** Position errors e_0 … e_K of the first, deg. */
  readonly errorsDeg: readonly number[]
  /** Rests as marked, the rig's errors still in them. */
  readonly asMarkedDeg: readonly number[]
  /** What was subtracted, deg. */
  readonly correctionDeg: readonly number[]
  readonly lengths: readonly SettledLength[]
  readonly faults: RigFaults
  /** The marks wander from cycle to cycle as a motor in step does not. */
  readonly wanders: boolean
  /** A command went missing on the way to the motor, or was made twice: what repeats is told from neither side of it. */
  readonly lost: boolean
  readonly known: Known
  /** The whole budget. */
  readonly contributions: readonly Contribution[]
  readonly warnings: readonly string[]
}

export interface StraightenInput {
  readonly trace: Trace
  readonly located: Located
  /** The main run, for its start and sense. */
  readonly run: Run
  readonly passes: Passes
}

/** Rests less a correction, deg; another reading of the commands may hold more rests, which are left as they are. */
export const corrected = (anglesDeg: readonly number[], correctionDeg: readonly number[]): number[] => anglesDeg.map((angle, k) => angle - (correctionDeg[k] ?? 0))

const marksOf = ({ trace, located, passes: { main } }: StraightenInput) =>
  settleMarks({
    anglesDeg: main.earlyDeg,
    statedDeg: main.uDeg,
    readingDeg: located.readingUDeg,
    microsteps: trace.motor.microsteps,
    repeated: main.repeated,
    source: trace.ordered ? 'marking' : 'detection',
    parts: trace.ordered ? located.parts : [],
    placed: trace.ordered || trace.markUncertainty !== null || located.parts.length > 0,
  })

/**
 * Settles how well a mark is known, then takes off what the rig did: lengths that the motor's own cycles contradict, and waves
 * once and twice per turn. What either leaves open goes into the budget.
 */
export const straighten = (input: StraightenInput): Straight => {
  const { trace, located, run, passes } = input
  const { stepsPerRev, microsteps } = trace.motor
  const microstepDeg = 360 / stepsPerRev / microsteps
  const { earlyDeg, lateDeg, jumpsUnknown } = passes.main
  const marks = marksOf(input)
  const uDeg = rms(marks.uDeg)
  const lengths = settleLengths(earlyDeg, located.slow, { microsteps, microstepDeg, startDeg: run.ordered.startDeg, sign: run.ordered.sign, uDeg })
  const bentDeg = positionErrors(corrected(earlyDeg, lengths.correctionDeg), microstepDeg)
  const slow = slowFaults(earlyDeg, bentDeg, {
    stepsPerRev,
    microsteps,
    commands: passes.main.commands,
    turnDeg: located.turnDeg,
    uDeg,
    ordered: trace.ordered,
    oneRun: trace.ordered && passes.main.runs.length === 1 && run.assignment.decidedBy !== 'fit',
    chords: trace.rig.kind === 'chord',
  })
  const contributions = [...marks.contributions, ...withSettled(located.common, lengths), ...slow.faults.contributions, ...creepWithin(passes), ...slow.wander]
  const correctionDeg = slow.faults.correctionDeg.map((fault, k) => fault + (lengths.correctionDeg[k] ?? 0))
  const anglesDeg = corrected(earlyDeg, correctionDeg)
  const uFreedom = effectiveDegreesOfFreedom(marks.contributions)
  return {
    anglesDeg,
    lateDeg: jumpsUnknown ? corrected(lateDeg, correctionDeg) : anglesDeg,
    errorsDeg: positionErrors(anglesDeg, microstepDeg),
    asMarkedDeg: earlyDeg,
    correctionDeg,
    lengths: lengths.lengths,
    faults: slow.faults,
    wanders: slow.wander.length > 0,
    lost: slow.lost,
    known: {
      uDeg: marks.uDeg,
      scatterDeg: combined(marks.contributions.filter(({ degreesOfFreedom }) => degreesOfFreedom !== null)),
      commonUDeg: combined(contributions.filter(({ kind }) => kind === 'common')),
      coverageFactor: coverageFactorFor(uFreedom),
      incrementScaleU: lengths.contributions === null ? incrementScaleU(anglesDeg, located.slow, run.ordered) : 0,
      uFreedom: uFreedom ?? Number.POSITIVE_INFINITY,
      uGuessed: marks.guessed,
      stepsPerRev,
      microsteps,
      turnDeg: located.turnDeg,
    },
    contributions,
    warnings: [...contradictions(lengths), ...slow.warnings, ...marks.warnings],
  }
}
