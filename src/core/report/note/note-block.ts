import { modeName } from '#core/decide/recommend'
import { keyFigures } from '#core/report/key-figures'
import { intervalText } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { effectiveSentence, verdictSentence } from '#core/report/verdict-sentence'
import { markdownText, tableRow } from './markdown-text.ts'
import { figuresLine, noteFiguresOf } from './note-figures.ts'

const figureTable = (result: Result): readonly string[] => [
  tableRow(['figure', 'value', 'meaning']),
  tableRow(['---', '---', '---']),
  ...keyFigures(result).map(({ name, text, meaning }) => tableRow([name, text, meaning].map(markdownText))),
]

const modeTable = ({ modes }: Result): readonly string[] => [
  tableRow(['step mode', 'verdict', 'worst increment (nominal 1)']),
  tableRow(['---', '---', '---']),
  ...modes.map(({ microsteps, verdict, worstIncrement }) =>
    tableRow([modeName(microsteps), verdict, worstIncrement ? intervalText(worstIncrement) : '–']),
  ),
]

const warningLines = ({ warnings }: Result): readonly string[] =>
  warnings.length === 0 ? [] : ['', ...warnings.map((warning) => `- Mind: ${markdownText(warning)}`)]

const provenance = ({ input, assignment }: Result, evidence: string | undefined): string => {
  const source = input.kind === 'photo' ? 'a photo' : 'a typed trace'
  const hash = input.sha256 === null ? '' : `, SHA-256 ${input.sha256.slice(0, 16)}…`
  const where = evidence === undefined ? '' : ` Evidence: ${markdownText(evidence)}.`
  return `From ${source}${hash}: ${assignment.commands} commands on ${assignment.marks} marks.${where}`
}

/**
 * The evidence of one motor test as Markdown lines, without markers: verdict, figures, step modes, warnings, where it came from,
 * and one comment line for the index. Names and texts from outside stand there as text, whatever they hold.
 */
export const noteBlock = (
  result: Result,
  { evidence }: { readonly evidence?: string | undefined } = {},
): readonly string[] => [
  `**Microstep test of ${markdownText(result.motor.name)}** (${result.motor.stepsPerRev} steps per turn, ${result.motor.microsteps} ${result.motor.microsteps === 1 ? 'microstep' : 'microsteps'} per step)`,
  '',
  markdownText(verdictSentence(result)),
  markdownText(effectiveSentence(result)),
  '',
  ...figureTable(result),
  '',
  ...modeTable(result),
  ...warningLines(result),
  '',
  provenance(result, evidence),
  figuresLine(noteFiguresOf(result)),
]
