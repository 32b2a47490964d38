import type { Command } from 'commander'
import { oneLine } from '#core/quantity/one-line'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { indexCells, indexCsv, type IndexLine, indexLines, indexMarkdown } from '#core/report/note/index-table'
import { noteIndex } from '#core/report/note/note-index'
import { type Need, readNeed } from '#core/report/note/read-need'
import { readNotes } from '#adapters/files/note-file'
import { fittedTable, folded } from '#adapters/terminal/fitted-table'
import { wrongUsage } from '#adapters/terminal/motor-options'
import type { NoteOptions } from '#adapters/terminal/note-command'
import { type Shown, tell } from '#adapters/terminal/outcome'

const needOf = ({ needs }: NoteOptions, command: Command): Need | null => {
  if (needs === undefined) return null
  const need = readNeed(needs, '--needs')
  return isUnmeasurable(need) ? wrongUsage(command, sentenceOf(need)) : need
}

/** On a screen the part comes first, so that it names the row where rows become blocks. */
const screenTable = (lines: readonly IndexLine[], asked: boolean): string => {
  const { head, rows } = indexCells(lines, asked)
  const first = head.indexOf('part')
  const order = [first, ...head.map((_, index) => index).filter((index) => index !== first)]
  return fittedTable(
    order.map((index) => head[index] ?? ''),
    rows.map((row) => order.map((index) => row[index] ?? '')),
  )
}

const textOf = (lines: readonly IndexLine[], asked: boolean, options: NoteOptions): string => {
  if (options.csv) return indexCsv(lines, asked)
  if (options.markdown) return indexMarkdown(lines, asked)
  const passing = lines.filter(({ answer }) => answer === 'pass').length
  const tested = new Set(lines.map(({ note }) => note)).size
  const first = asked
    ? `${passing} of ${lines.length} ${lines.length === 1 ? 'entry meets' : 'entries meet'} it`
    : `${tested} ${tested === 1 ? 'note' : 'notes'}`
  return `${folded(first)}\n\n${screenTable(lines, asked)}`
}

/** Lists a folder of notes; with a need, says which motor can do it. */
export const runIndex = async (
  folder: string,
  options: NoteOptions,
  command: Command,
): Promise<Shown | Unmeasurable> => {
  if (options.csv && options.markdown) return wrongUsage(command, 'give --csv or --markdown, not both')
  const need = needOf(options, command)
  const read = await readNotes(folder)
  if (isUnmeasurable(read)) return read
  const index = noteIndex(read.notes)
  const warnings = [...read.warnings, ...index.warnings]
  warnings.forEach((warning) => {
    tell(`note: ${oneLine(warning)}`)
  })
  const lines = indexLines(index.rows, need)
  const answers = lines.map(({ note, part, answer, by }) => ({ note, part, answer: answer || null, by: by || null }))
  return {
    json: {
      schema: 'stepwitness/note-index@1',
      needs: need && { resolution: need.resolution, train: need.train },
      rows: index.rows,
      answers,
      warnings,
    },
    text: textOf(lines, need !== null, options),
  }
}
