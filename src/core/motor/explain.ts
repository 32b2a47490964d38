import type { FramedRun } from '#core/assign/paper-frame'
import type { Straight } from '#core/figures/straighten'
import { rms } from '#core/numeric/moments'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type CorrectionTable, correctionTable, type Withheld } from './correction-table.ts'
import { fitMotor } from './fit-motor.ts'
import type { MotorTrace } from './folded-pattern.ts'
import type { MotorFit } from './motor-fit.ts'
import { modesToPredict, type Prediction, predictModes } from './predict.ts'

/** Why the motor does what the trace shows, as far as the data carry it. */
export interface Explanation {
  readonly motorFit: MotorFit | null
  readonly predictions: readonly Prediction[]
  readonly correction: CorrectionTable | Withheld
  readonly warnings: readonly string[]
}

export interface ExplainInput {
  /** All runs in one frame; the first is the main one. */
  readonly runs: readonly FramedRun[]
  /** The main run: what its rig did comes off every run. */
  readonly straight: Pick<Straight, 'correctionDeg' | 'known'>
  /** Within runs of merged commands nobody knows when the shaft jumped. */
  readonly jumpsUnknown: boolean
  readonly seed: number
  /** `linear` answers within a frame, for a page on which a mark is being dragged. */
  readonly intervals: 'sampled' | 'linear'
  /** The effective count as measured; left out: the model's own is held against nothing. */
  readonly measured?: { readonly value: number; readonly low: number; readonly high: number }
}

/** Rests in the order the commands were given: a return counts down. */
const traceOf = ({ runs, straight: { correctionDeg, known } }: ExplainInput): MotorTrace => {
  const fault = new Map(runs[0]?.commands.map((command, i) => [command, correctionDeg[i] ?? 0]))
  const rests = runs.flatMap(({ pass, direction, commands, earlyDeg }) => {
    const run = commands.map((command, i) => ({ command, angle: (earlyDeg[i] ?? 0) - (fault.get(command) ?? 0), direction, pass }))
    return direction === 1 ? run : run.reverse()
  })
  return {
    stepsPerRev: known.stepsPerRev,
    microsteps: known.microsteps,
    commands: rests.map(({ command }) => command),
    anglesDeg: rests.map(({ angle }) => angle),
    directions: rests.map(({ direction }) => direction),
    passes: rests.map(({ pass }) => pass),
    uDeg: rms(known.uDeg),
  }
}

const without = (reason: string): Explanation => ({ motorFit: null, predictions: [], correction: { kind: 'withheld', reason }, warnings: [] })

/** What stands in place of a cause that nobody asked for. */
export const notSought: Explanation = without('not looked for yet')

/** The mode that was measured, as the model would have it: where even that is not met, other modes are not either. */
const notMet = ({ effectiveMicrosteps: { value, low, high } }: Prediction, measured: NonNullable<ExplainInput['measured']>, mode: string): string[] =>
  low <= measured.high && measured.low <= high ? [] : [`Of ${mode}, which were measured, the fitted model makes ${value.toFixed(2)} effective microsteps where ${measured.value.toFixed(2)} were found: what it predicts of other modes is no better than that.`]

/** Fits the two-phase rest model to all runs; where the data cannot carry it, says so and gives nothing. */
export const explain = (input: ExplainInput): Explanation => {
  const fitted = fitMotor(traceOf(input), { seed: input.seed, intervals: input.intervals })
  if (isUnmeasurable(fitted)) return { ...without(`No cause was looked for: ${fitted.what}; ${fitted.remedy}.`), warnings: [`No cause was looked for: ${fitted.what}; ${fitted.remedy}.`] }
  const { microsteps } = input.straight.known
  const [measured, ...predictions] = predictModes(fitted.fitted, [microsteps, ...modesToPredict(microsteps)])
  const own = measured && input.measured ? notMet(measured, input.measured, microsteps === 1 ? 'full steps' : `1/${microsteps} steps`) : []
  const warnings = input.jumpsUnknown ? ['The cause was fitted with every merged run read as jumping at its first command; number the commands to settle that.', ...own] : own
  return {
    motorFit: fitted.motorFit,
    predictions,
    correction: correctionTable(fitted),
    warnings,
  }
}
