import type { DriveFigures } from './drive-figures.ts'
import type { DrivenMotor, DriveTrain } from './drive-train.ts'
import { driveRecommendation } from './drive-recommendation.ts'
import { dynamicsOf, type TorqueData } from './dynamics-of.ts'
import type { Load } from './load.ts'
import { type Answer, type Check, forceCheck, modeCheck, resolutionCheck, reversalCheck } from './requirement-checks.ts'
import { type ModeTravel, type Travel, travelOf } from './travel-of.ts'

/** What the machine must do, in the travel's unit; null where nothing is asked. */
export interface Requirement {
  readonly resolution: number | null
  readonly reversal: number | null
  /** Required length of travel; a train's own limit is not known, so it is only counted in commands. */
  readonly travel: number | null
  readonly load: Load
}

export interface Choice {
  readonly train: string
  readonly microsteps: number
  readonly answer: Answer
  readonly checks: readonly Check[]
  /** In `unit`. */
  readonly resolution: number
  readonly unit: 'mm' | 'deg'
  readonly commandsForTravel: number | null
}

export interface ChoiceTable {
  readonly kind: 'choices'
  readonly choices: readonly Choice[]
  /** The coarsest mode that passes on the train with most room; null when none passes. */
  readonly best: Choice | null
  readonly recommendation: string
}

const answerOf = (answers: readonly Answer[]): Answer =>
  answers.includes('fail') ? 'fail' : answers.includes('not proven') ? 'not proven' : 'pass'

const choiceOf = (travel: Travel, mode: ModeTravel, checks: readonly Check[], wanted: Requirement): Choice => ({
  train: travel.train,
  microsteps: mode.microsteps,
  answer: answerOf(checks.map(({ answer }) => answer)),
  checks,
  resolution: mode.guaranteed ?? mode.effective?.high ?? mode.nominal,
  unit: travel.unit,
  commandsForTravel: wanted.travel === null ? null : Math.round(wanted.travel * mode.commandsPerUnit),
})

/** Coarsest passing mode first (more torque per step); among equals, the finer resolution. */
const bestOf = (choices: readonly Choice[]): Choice | null =>
  choices
    .filter(({ answer }) => answer === 'pass')
    .toSorted((a, b) => a.microsteps - b.microsteps || a.resolution - b.resolution)[0] ?? null

/**
 * Every step mode on every train against the requirement. A mode passes resolution only on its measured figure (largest
 * increment, else effective count); half against full stepping is decided the same way, from the measured trace.
 */
export const chooseDrive = (
  wanted: Requirement,
  trains: readonly DriveTrain[],
  motor: DrivenMotor,
  { figures, torque }: { readonly figures?: DriveFigures | undefined; readonly torque: TorqueData },
): ChoiceTable => {
  const choices = trains.flatMap((train) => {
    const travel = travelOf(train, motor, figures)
    const shared = [
      forceCheck(dynamicsOf(train, motor, wanted.load, torque)),
      ...(wanted.reversal === null
        ? []
        : [reversalCheck(travel, typeof figures?.reversalDeg === 'number', wanted.reversal)]),
    ]
    return travel.modes.map((mode) => {
      const own = [modeCheck(mode), ...(wanted.resolution === null ? [] : [resolutionCheck(mode, wanted.resolution)])]
      return choiceOf(travel, mode, [...own, ...shared], wanted)
    })
  })
  const best = bestOf(choices)
  return { kind: 'choices', choices, best, recommendation: driveRecommendation(choices, best, wanted.resolution) }
}
