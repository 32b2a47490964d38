import type { ChoiceTable, Choice } from '#core/decide/drive/choose-drive'
import { writeNumber } from '#core/quantity/write-number'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'

const columns = ['mode', 'resolution', 'speed and force', 'reversal'] as const

const cell = (choice: Choice, requirement: (typeof columns)[number]): string => {
  const check = choice.checks.find((known) => known.requirement === requirement)
  // With no load stated there is nothing to pass.
  if (!check || (requirement === 'speed and force' && check.answer === 'pass' && check.margin === null)) return '–'
  return check.margin === null ? check.answer : `${check.answer} ×${writeNumber(check.margin, 2)}`
}

const headings = {
  mode: 'real',
  resolution: 'resolution',
  'speed and force': 'force',
  reversal: 'reversal',
} as const

const ofTrain = (train: string, choices: readonly Choice[]): string => {
  const rows = choices
    .filter((choice) => choice.train === train)
    .map((choice) => [
      choice.microsteps === 1 ? 'full' : `1/${choice.microsteps}`,
      choice.answer,
      ...columns.map((name) => cell(choice, name)),
      choice.commandsForTravel === null ? '–' : String(choice.commandsForTravel),
    ])
  const head = ['step mode', 'answer', ...columns.map((name) => headings[name]), 'commands']
  return `${folded(train)}\n${fittedTable(head, rows)}`
}

/** Which mode on which train meets what is asked: recommendation first, then one table per train (× gives the margin, commands the whole travel). */
export const choiceText = ({ choices, recommendation }: ChoiceTable): string =>
  [
    folded(recommendation),
    ...[...new Set(choices.map(({ train }) => train))].map((train) => ofTrain(train, choices)),
  ].join('\n\n')
