import { modeName } from '#core/decide/recommend'
import { keyFigures } from './key-figures.ts'
import { intervalText } from './number-text.ts'
import type { Result } from './result-schema.ts'
import { settlingLabels } from './settling-labels.ts'
import { verdictSentence } from './verdict-sentence.ts'

/** Text folded at words; later lines indented. A word longer than the line stands alone. */
export const foldText = (text: string, columns: number, indent = ''): string => {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/)) {
    if (line !== '' && line.length + 1 + word.length > columns) {
      lines.push(line)
      line = `${indent}${word}`
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line].join('\n')
}

/** Rows in columns as wide as their longest cell but the last, which folds under itself. */
const aligned = (rows: readonly (readonly string[])[], columns: number): string => {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => row[i]?.length ?? 0)))
  const lead = widths.slice(0, -1).reduce((sum, width) => sum + width + 2, 0)
  return rows
    .map((row) => {
      const front = row.slice(0, -1).map((cell, i) => cell.padEnd((widths[i] ?? 0) + 2)).join('')
      const last = foldText(row.at(-1) ?? '', Math.max(16, columns - lead)).split('\n')
      return last.map((line, i) => `${i === 0 ? front : ' '.repeat(lead)}${line}`.trimEnd()).join('\n')
    })
    .join('\n')
}

const modeRows = ({ modes }: Result): readonly (readonly string[])[] => [
  ['step mode', 'verdict', 'worst increment, nominal 1'],
  ...modes.map(({ microsteps, verdict, worstIncrement }) => [modeName(microsteps), verdict, worstIncrement ? intervalText(worstIncrement) : '–']),
]

/** How the coarsest mode that is not proven could be settled. */
const settling = ({ modes }: Result): string | null => {
  const open = modes.find(({ toSettle }) => toSettle !== null)
  return open?.toSettle ? `To settle ${modeName(open.microsteps)}: ${open.toSettle.text}.` : null
}

const underlined = ([first = '', ...rest]: readonly string[]): string => [first, '─'.repeat(Math.max(...[first, ...rest].flatMap((block) => block.split('\n')).map((line) => line.length))), ...rest].join('\n')

/**
 * A finished measurement for the terminal, in plain characters: the verdict with its reason, the key figures with
 * uncertainty and unit, the step modes, what to mind.
 * @param options columns to write for, at least 40
 */
export const summaryText = (result: Result, { columns = 80 }: { readonly columns?: number } = {}): string => {
  const { motor, warnings } = result
  const further = settling(result)
  const cause = result.motorFit?.finding.text
  const figures = keyFigures(result).map(({ name, text }) => [name, text])
  return [
    foldText(verdictSentence(result), columns),
    '',
    foldText(`${motor.name}: ${motor.stepsPerRev} steps per turn, ${motor.microsteps} ${motor.microsteps === 1 ? 'microstep' : 'microsteps'} per step, ${result.assignment.commands} commands on ${result.assignment.marks} marks`, columns),
    '',
    aligned(figures, columns),
    '',
    underlined(aligned(modeRows(result), columns).split('\n')),
    ...(cause === undefined ? [] : ['', foldText(cause, columns)]),
    ...(further === null ? [] : ['', foldText(further, columns)]),
    ...(result.assignment.ambiguous ? ['', foldText(`Which command belongs to which mark is not settled. ${settlingLabels(result.assignment, result.input.kind)}`, columns)] : []),
    ...(warnings.length > 0 ? ['', ...warnings.map((warning) => foldText(`! ${warning}`, columns, '  '))] : []),
  ].join('\n')
}
