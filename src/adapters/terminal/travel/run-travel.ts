import type { Command } from 'commander'
import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { figuresFromCount } from '#core/decide/drive/drive-figures'
import type { DriveTrain, DrivenMotor } from '#core/decide/drive/drive-train'
import { readTrain } from '#core/decide/drive/read-train'
import { travelOf } from '#core/decide/drive/travel-of'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { readDriveFigures } from '#adapters/files/read-drive-figures'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import { type Shown, tell } from '#adapters/terminal/outcome'
import type { TravelOptions } from '#adapters/terminal/travel-command'
import { travelText } from './travel-text.ts'

const stagesBefore = (gears: string | undefined): string =>
  (gears ?? '')
    .split(/[,;\s]+/)
    .filter((stage) => stage !== '')
    .map((stage) => `gear ${stage} > `)
    .join('')

const trainTexts = (options: TravelOptions): readonly string[] => {
  const before = stagesBefore(options.gears)
  const outputs = (['screw', 'drum', 'belt', 'rack'] as const).flatMap((kind) => options[kind].map((text) => `${before}${kind} ${text}`))
  return [...outputs, ...(options.rotary ? [`${before}rotary`] : []), ...options.train]
}

/** The drive trains the options name; wrong usage when one cannot be read or none is there. */
export const trainsFrom = (options: TravelOptions, command: Command): readonly DriveTrain[] => {
  const texts = trainTexts(options)
  if (texts.length === 0) wrongUsage(command, 'name a drive train: --screw, --drum, --belt, --rack, --rotary or --train')
  return texts.map((text) => {
    const read = readTrain(text, 'drive train')
    if (isUnmeasurable(read)) return wrongUsage(command, sentenceOf(read))
    read.warnings.forEach((warning) => { tell(`note: ${warning}`) })
    return read.train
  })
}

export interface DriveInput {
  readonly motor: DrivenMotor
  readonly figures: DriveFigures | undefined
}

/** Motor and figures from a result file, or from options alone; options win. */
export const driveInput = async (options: TravelOptions, command: Command): Promise<DriveInput | Unmeasurable> => {
  const measured = options.result === undefined ? undefined : await readDriveFigures(options.result)
  if (isUnmeasurable(measured)) return measured
  const motor = {
    stepsPerRev: wholeOption(command, ['--steps-per-rev', options.stepsPerRev], measured?.motor.stepsPerRev),
    microsteps: wholeOption(command, ['--microsteps', options.microsteps], measured?.motor.microsteps ?? 1),
  }
  if (options.effective === undefined) return { motor, figures: measured?.figures }
  const count = Number(options.effective)
  if (!(count > 0)) return wrongUsage(command, `--effective must be above 0, not "${options.effective}"`)
  return { motor, figures: figuresFromCount(motor.microsteps, count) }
}

/** Runs `travel`: every train's figures as JSON, or tables for a person. */
export const runTravel = async (options: TravelOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const trains = trainsFrom(options, command)
  const input = await driveInput(options, command)
  if (isUnmeasurable(input)) return input
  const travels = trains.map((train) => travelOf(train, input.motor, input.figures))
  return { json: { schema: 'stepwitness/travel@1', motor: input.motor, trains: travels }, text: travelText(travels, input.motor) }
}
