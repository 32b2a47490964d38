import type { DrivenMotor } from '#core/decide/drive/drive-train'
import type { Dynamics } from '#core/decide/drive/dynamics-of'
import { rateFor } from '#core/decide/drive/speed-of'
import type { ModeTravel, Travel } from '#core/decide/drive/travel-of'
import { writeNumber } from '#core/quantity/write-number'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'
import { dynamicsText } from './dynamics-text.ts'

/** A unit lengths are shown in, and how many of it make 1 mm. */
export interface LengthUnit {
  readonly name: string
  readonly perMm: number
  /** Unit torques are shown in. */
  readonly torque: string
}

/** One train's travel with the speed and forces that were asked about. */
export type ShownTravel = Travel & { readonly speed: number; readonly dynamics: Dynamics | null }

const modeName = (microsteps: number): string => (microsteps === 1 ? 'full' : `1/${microsteps}`)

const modeTable = (modes: readonly ModeTravel[], { name, perMm }: LengthUnit): string => {
  const cell = (value: number | null | undefined): string =>
    typeof value === 'number' ? writeNumber(value * perMm) : '–'
  return fittedTable(
    ['step mode', 'commands/turn', `per ${name}`, `nominal ${name}`, 'effective', 'guaranteed', 'verdict'],
    modes.map((mode) => [
      modeName(mode.microsteps),
      writeNumber(mode.commandsPerOutputTurn, 7),
      writeNumber(mode.commandsPerUnit / perMm, 5),
      cell(mode.nominal),
      cell(mode.effective?.value),
      cell(mode.guaranteed),
      mode.verdict ?? '–',
    ]),
  )
}

const intervalLines = (modes: readonly ModeTravel[], { name, perMm }: LengthUnit): readonly string[] =>
  modes.flatMap(({ microsteps, effective }) =>
    effective && effective.low < effective.high
      ? [
          folded(
            `effective at ${modeName(microsteps)}: ${writeNumber(effective.low * perMm)} to ${writeNumber(effective.high * perMm)} ${name}, 95 % interval of the measured count`,
          ),
        ]
      : [],
  )

const reversalLine = ({ reversal }: Travel, { name, perMm }: LengthUnit): readonly string[] =>
  reversal.total === 0
    ? []
    : [
        folded(
          `reversal ${writeNumber(reversal.total * perMm)} ${name}: ${reversal.parts.map(({ source, amount }) => `${source} ${writeNumber(amount * perMm)}`).join(', ')}`,
        ),
      ]

const speedLine = (travel: ShownTravel, { name, perMm }: LengthUnit): readonly string[] => {
  if (travel.speed === 0) return []
  const rates = travel.modes.map(
    ({ microsteps }) => `${modeName(microsteps)} ${writeNumber(rateFor(travel, travel.speed, microsteps), 4)}`,
  )
  return [folded(`${writeNumber(travel.speed * perMm)} ${name}/s takes, in commands per second: ${rates.join(', ')}`)]
}

const travelBlock = (travel: ShownTravel, length: LengthUnit): string => {
  const unit = travel.unit === 'mm' ? length : { name: 'deg', perMm: 1, torque: length.torque }
  const amount = (value: number): string => `${writeNumber(value * unit.perMm)} ${unit.name}`
  return [
    folded(
      `${travel.train}: ${amount(travel.perFullStep)} per full step, ${amount(travel.perMotorTurn)} per motor turn`,
    ),
    '',
    modeTable(travel.modes, unit),
    ...intervalLines(travel.modes, unit),
    ...reversalLine(travel, unit),
    ...speedLine(travel, unit),
    ...(travel.dynamics === null
      ? []
      : ['', dynamicsText(travel.dynamics, { length: unit.name, perMm: unit.perMm, torque: unit.torque })]),
  ].join('\n')
}

/** The travel of every train for a person: one line first, then a table of step modes, then speed and forces. */
export const travelText = (
  travels: readonly ShownTravel[],
  { stepsPerRev, microsteps }: DrivenMotor,
  length: LengthUnit,
): string =>
  [
    `motor: ${stepsPerRev} steps per turn, up to ${modeName(microsteps)} steps`,
    ...travels.map((travel) => travelBlock(travel, length)),
  ].join('\n\n')
