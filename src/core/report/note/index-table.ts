import { chooseDrive } from '#core/decide/drive/choose-drive'
import { travelUnit } from '#core/decide/drive/drive-train'
import { idleLoad } from '#core/decide/drive/load'
import { csvField } from '#core/quantity/csv-field'
import { writeNumber } from '#core/quantity/write-number'
import { oneLine } from '#core/quantity/one-line'
import { valueAndInterval } from '#core/report/number-text'
import { markdownText, tableRow } from './markdown-text.ts'
import { driveFiguresOfNote, type NoteFigures } from './note-figures.ts'
import type { IndexRow } from './note-index.ts'
import type { Need } from './read-need.ts'

/** A row of the index as words, ready for any kind of table. */
export interface IndexLine {
  readonly part: string
  readonly note: string
  readonly steps: string
  readonly recommended: string
  readonly effective: string
  readonly error: string
  readonly foundIn: string
  readonly usedIn: string
  /** pass, fail, not proven or not tested; '' when nothing was asked. */
  readonly answer: string
  /** Coarsest mode that passes, and its resolution. */
  readonly by: string
}

const mode = (microsteps: number): string => (microsteps === 1 ? 'full' : `1/${microsteps}`)

const noTorque = { holdingNm: null, rotorInertiaKgM2: null, pullOut: [] }

const answerFor = (
  figures: NoteFigures | null,
  need: Need | null,
): { readonly answer: string; readonly by: string } => {
  if (!need) return { answer: '', by: '' }
  if (!figures) return { answer: 'not tested', by: '' }
  const wanted = { resolution: need.resolution, reversal: null, travel: null, load: idleLoad }
  const { choices, best } = chooseDrive(wanted, [need.train], figures, {
    figures: driveFiguresOfNote(figures),
    torque: noTorque,
  })
  if (best) return { answer: 'pass', by: `${mode(best.microsteps)}, ${writeNumber(best.resolution, 3)} ${travelUnit(need.train.output)}` }
  return { answer: choices.some(({ answer }) => answer === 'not proven') ? 'not proven' : 'fail', by: '' }
}

const lineOf = ({ path, part, foundIn, usedIn, figures }: IndexRow, need: Need | null): IndexLine => ({
  part: oneLine(part),
  note: oneLine(path),
  steps: figures ? `${figures.stepsPerRev} × ${figures.microsteps}` : '–',
  recommended: figures ? (figures.recommended === null ? 'none' : mode(figures.recommended)) : 'not tested',
  effective: figures ? valueAndInterval(figures.effective) : '–',
  error: figures ? `${writeNumber(figures.peakToPeakDeg)}°` : '–',
  foundIn: oneLine(foundIn),
  usedIn: oneLine(usedIn),
  ...answerFor(figures, need),
})

const rank: Readonly<Record<string, number>> = { pass: 0, 'not proven': 1, 'not tested': 2, fail: 3 }

/** The index in words; with a need, what passes first. */
export const indexLines = (rows: readonly IndexRow[], need: Need | null): readonly IndexLine[] => {
  const lines = rows.map((row) => lineOf(row, need))
  return need ? lines.toSorted((a, b) => (rank[a.answer] ?? 9) - (rank[b.answer] ?? 9)) : lines
}

const columns = (asked: boolean): readonly (readonly [keyof IndexLine, string])[] => [
  ...(asked
    ? ([
        ['answer', 'answer'],
        ['by', 'by, mode and resolution'],
      ] as const)
    : []),
  ['part', 'part'],
  ['steps', 'steps × microsteps'],
  ['recommended', 'trust up to'],
  ['effective', 'effective microsteps'],
  ['error', 'peak to peak'],
  ['foundIn', 'found in'],
  ['usedIn', 'used in'],
  ['note', 'note'],
]

/** Names and cells of the index as plain words. */
export const indexCells = (
  lines: readonly IndexLine[],
  asked: boolean,
): { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] } => {
  const shown = columns(asked)
  return { head: shown.map(([, name]) => name), rows: lines.map((line) => shown.map(([key]) => line[key])) }
}

/** The index as a Markdown table; names from outside stand there as text. */
export const indexMarkdown = (lines: readonly IndexLine[], asked: boolean): string => {
  const { head, rows } = indexCells(lines, asked)
  return [
    tableRow(head),
    tableRow(head.map(() => '---')),
    ...rows.map((row) => tableRow(row.map(markdownText))),
    '',
  ].join('\n')
}

/** The index as CSV for a spreadsheet, which sees no formula in it. */
export const indexCsv = (lines: readonly IndexLine[], asked: boolean): string => {
  const { head, rows } = indexCells(lines, asked)
  return [head, ...rows]
    .map((row) => row.map(csvField).join(','))
    .join('\r\n')
    .concat('\r\n')
}
