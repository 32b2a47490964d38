import Table from 'cli-table3'
import { foldText } from '#core/report/summary-text'

/** Columns to write for: the terminal's, or COLUMNS, or 80 when the output is piped; at least 40. */
export const terminalColumns = (): number =>
  Math.max(40, process.stdout.columns || Number(process.env['COLUMNS']) || 80)

/** Columns for sentences: those of the terminal, but no more than can be read at ease. */
export const textColumns = (): number => Math.min(80, terminalColumns())

const none = {
  top: '',
  'top-mid': '',
  'top-left': '',
  'top-right': '',
  bottom: '',
  'bottom-mid': '',
  'bottom-left': '',
  'bottom-right': '',
}
const chars = { ...none, left: '', 'left-mid': '', mid: '', 'mid-mid': '', right: '', 'right-mid': '', middle: '  ' }

const unknown = (cell: string | undefined): boolean => cell === undefined || cell === '' || cell === '–'

const aligned = (head: readonly string[], rows: readonly (readonly string[])[]): string => {
  const right = head.map(
    (_, column) => column > 0 && rows.every((row) => /^[-–−+\d]/.test(row[column] ?? '–') || row[column] === ''),
  )
  const colAligns = right.map((numeric) => (numeric ? 'right' : 'left') as 'right' | 'left')
  const table = new Table({
    head: [...head],
    chars,
    colAligns,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0 },
  })
  table.push(...rows.map((row) => [...row]))
  const lines = table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
  const width = Math.max(...lines.map((line) => line.length))
  return [lines[0] ?? '', '─'.repeat(width), ...lines.slice(1)].join('\n')
}

const stacked = (head: readonly string[], rows: readonly (readonly string[])[]): string => {
  const names = Math.max(...head.slice(1).map((name) => name.length))
  const block = (row: readonly string[]): string =>
    [
      `${head[0]} ${row[0]}`,
      ...head
        .slice(1)
        .flatMap((name, index) => (unknown(row[index + 1]) ? [] : [`  ${name.padEnd(names)}  ${row[index + 1]}`])),
    ].join('\n')
  return rows.map(block).join('\n')
}

/**
 * A table in plain characters, no colour; columns of numbers to the right. When it is wider than the terminal, each row
 * becomes a block of lines instead. The first column names the row; columns and lines with nothing to say ("–") are left out.
 */
export const fittedTable = (
  head: readonly string[],
  rows: readonly (readonly string[])[],
  columns = terminalColumns(),
): string => {
  if (rows.length === 0) return ''
  const kept = head.map((_, column) => column === 0 || rows.some((row) => !unknown(row[column])))
  const [names = [], ...cells] = [head, ...rows].map((row) => row.filter((_, column) => kept[column]))
  const flat = aligned(names, cells)
  return Math.max(...flat.split('\n').map((line) => line.length)) <= columns ? flat : stacked(names, cells)
}

/** Text folded at words to the terminal's width, later lines indented. */
export const folded = (
  text: string,
  { columns = terminalColumns(), indent = '' }: { readonly columns?: number; readonly indent?: string } = {},
): string => foldText(text, columns, indent)
