import type { Command } from 'commander'
import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { figuresFromCount } from '#core/decide/drive/drive-figures'
import { type ChoiceTable, chooseDrive } from '#core/decide/drive/choose-drive'
import { coilFigures } from '#core/decide/drive/coil'
import { type DriveTrain, type DrivenMotor, travelUnit } from '#core/decide/drive/drive-train'
import { dynamicsOf } from '#core/decide/drive/dynamics-of'
import { readTrain } from '#core/decide/drive/read-train'
import { travelOf } from '#core/decide/drive/travel-of'
import { driveFigures } from '#core/report/drive-figures'
import { readLoneNumber } from '#core/quantity/read-number'
import { quantityIn } from '#core/quantity/write-quantity'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { readResult } from '#adapters/files/read-result'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import { type Shown, tell } from '#adapters/terminal/outcome'
import type { TravelOptions } from '#adapters/terminal/travel-command'
import { choiceText } from './choice-text.ts'
import { coilData, loadOf, requirementOf, torqueData } from './drive-options.ts'
import { coilText } from './dynamics-text.ts'
import { type LengthUnit, travelText } from './travel-text.ts'

const shownUnits = ({ unit, torqueUnit }: TravelOptions, command: Command): LengthUnit => {
  try {
    quantityIn(1, 'torque', torqueUnit)
    return { name: unit, perMm: quantityIn(1, 'length', unit), torque: torqueUnit }
  } catch (error) {
    return wrongUsage(command, error instanceof Error ? error.message : 'a unit cannot be read')
  }
}

const stagesBefore = (gears: string | undefined): string =>
  (gears ?? '')
    .split(/[,;\s]+/)
    .filter((stage) => stage !== '')
    .map((stage) => `gear ${stage} > `)
    .join('')

const trainTexts = (options: TravelOptions): readonly string[] => {
  const before = stagesBefore(options.gears)
  const outputs = (['screw', 'drum', 'belt', 'rack'] as const).flatMap((kind) =>
    (options[kind] ?? []).map((text) => `${before}${kind} ${text}`),
  )
  return [...outputs, ...(options.rotary ? [`${before}rotary`] : []), ...(options.train ?? [])]
}

/** The drive trains the options name; wrong usage when one cannot be read or none is there. */
export const trainsFrom = (options: TravelOptions, command: Command): readonly DriveTrain[] => {
  const texts = trainTexts(options)
  if (texts.length === 0)
    wrongUsage(command, 'name a drive train: --screw, --drum, --belt, --rack, --rotary or --train')
  return texts.map((text) => {
    const read = readTrain(text, 'drive train')
    if (isUnmeasurable(read)) return wrongUsage(command, sentenceOf(read))
    read.warnings.forEach((warning) => {
      tell(`note: ${warning}`)
    })
    return read.train
  })
}

export interface DriveInput {
  readonly motor: DrivenMotor
  readonly figures: DriveFigures | undefined
}

/** Motor and figures from a result file, or from options alone. What was measured on a motor of other steps is refused; other microsteps are not. */
export const driveInput = async (options: TravelOptions, command: Command): Promise<DriveInput | Unmeasurable> => {
  const measured = options.result === undefined ? undefined : await readResult(options.result)
  if (isUnmeasurable(measured)) return measured
  const motor = {
    stepsPerRev: wholeOption(command, ['--steps-per-rev', options.stepsPerRev], measured?.motor.stepsPerRev),
    microsteps: wholeOption(command, ['--microsteps', options.microsteps], measured?.motor.microsteps ?? 1),
  }
  if (measured && motor.stepsPerRev !== measured.motor.stepsPerRev)
    return wrongUsage(command, `${options.result} was measured on a motor of ${measured.motor.stepsPerRev} steps per turn, not ${motor.stepsPerRev}: leave --steps-per-rev out, or leave --result out`)
  if (options.effective === undefined) return { motor, figures: measured && driveFigures(measured) }
  const count = readLoneNumber(options.effective) ?? Number.NaN
  if (!(count > 0)) return wrongUsage(command, `--effective must be above 0, not "${options.effective}"`)
  return { motor, figures: figuresFromCount(motor.microsteps, count) }
}

/** Choices are asked of mm trains and rotary trains apart, since their requirement has another unit. */
const choicesFor = (
  options: TravelOptions,
  command: Command,
  { motor, figures }: DriveInput,
  trains: readonly DriveTrain[],
): readonly ChoiceTable[] => {
  const groups = (['mm', 'deg'] as const).map((unit) => trains.filter(({ output }) => travelUnit(output) === unit))
  return groups.flatMap((group) => {
    const [first] = group
    const wanted = first && requirementOf(options, command, [first, motor])
    return wanted ? [chooseDrive(wanted, group, motor, { figures, torque: torqueData(options, command) })] : []
  })
}

const isLoaded = (options: TravelOptions): boolean =>
  [
    options.mass,
    options.force,
    options.holding,
    options.speed,
    options.stepRate,
    options.acceleration,
    options.pullOut,
  ].some((text) => text !== undefined)

const tellUnstatedEfficiency = (trains: readonly DriveTrain[]): void => {
  const lossy = trains
    .flatMap(({ reductions, output }) => [...reductions, output])
    .filter(({ kind, efficiency }) => (kind === 'screw' || kind === 'worm') && efficiency === 1)
  if (lossy.length > 0)
    tell(
      'note: no efficiency was stated for a screw or worm, so none is lost here; a plain screw keeps about a third, a ball screw about nine tenths',
    )
}

/** Runs `travel`: every train's figures as JSON, or tables for a person. */
export const runTravel = async (options: TravelOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const trains = trainsFrom(options, command)
  const input = await driveInput(options, command)
  if (isUnmeasurable(input)) return input
  const { motor, figures } = input
  const torque = torqueData(options, command)
  if (isLoaded(options)) tellUnstatedEfficiency(trains)
  const shown = trains.map((train) => {
    const load = loadOf(options, command, [train, motor])
    return {
      ...travelOf(train, motor, figures),
      speed: load.speed,
      dynamics: isLoaded(options) ? dynamicsOf(train, motor, load, torque) : null,
    }
  })
  const coil = coilData(options, command)
  const choices = choicesFor(options, command, input, trains)
  return {
    json: { schema: 'stepwitness/travel@1', motor, trains: shown, coil: { ...coil, ...coilFigures(coil) }, choices },
    text: [travelText(shown, motor, shownUnits(options, command)), coilText(coil), ...choices.map(choiceText)]
      .filter((part) => part !== '')
      .join('\n\n'),
  }
}
