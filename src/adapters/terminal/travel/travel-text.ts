import type { DrivenMotor } from '#core/decide/drive/drive-train'
import type { ModeTravel, Travel } from '#core/decide/drive/travel-of'
import { writeNumber } from '#core/quantity/write-quantity'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const cell = (value: number | null | undefined): string => (typeof value === 'number' ? writeNumber(value) : '–')

const modeName = (microsteps: number): string => (microsteps === 1 ? 'full' : `1/${microsteps}`)

const head = (unit: string, measured: boolean): readonly string[] => [
  'step mode',
  'commands per turn',
  `per ${unit}`,
  `nominal ${unit}`,
  ...(measured ? [`effective ${unit}`, `guaranteed ${unit}`, 'verdict'] : []),
]

const row = (mode: ModeTravel, measured: boolean): readonly string[] => [
  modeName(mode.microsteps),
  writeNumber(mode.commandsPerOutputTurn, 7),
  writeNumber(mode.commandsPerUnit, 5),
  cell(mode.nominal),
  ...(measured ? [cell(mode.effective?.value), cell(mode.guaranteed), mode.verdict ?? '–'] : []),
]

const reversalLine = ({ reversal, unit }: Travel): readonly string[] =>
  reversal.total === 0
    ? []
    : [folded(`reversal ${writeNumber(reversal.total)} ${unit}: ${reversal.parts.map(({ source, amount }) => `${source} ${writeNumber(amount)}`).join(', ')}`)]

const travelBlock = (travel: Travel): string => {
  const { unit, modes, perFullStep } = travel
  const measured = modes.some(({ effective, verdict }) => effective !== null || verdict !== null)
  return [
    folded(`${travel.train}: ${writeNumber(perFullStep)} ${unit} per full step, ${writeNumber(travel.perMotorTurn)} ${unit} per motor turn`),
    '',
    fittedTable(head(unit, measured), modes.map((mode) => row(mode, measured))),
    ...reversalLine(travel),
  ].join('\n')
}

/** The travel of every train for a person: one line first, then a table of step modes. */
export const travelText = (travels: readonly Travel[], { stepsPerRev, microsteps }: DrivenMotor): string =>
  [`motor: ${stepsPerRev} steps per turn, up to 1/${microsteps} steps`, ...travels.map(travelBlock)].join('\n\n')
