import { lastDigit, readNumber } from '#core/quantity/read-number'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Row, Table } from './table.ts'
import type { TraceMark } from './trace.ts'

const columns = ['position', 'command', 'tally', 'pass', 'direction', 'note', 'uncertainty', 'confidence', 'multiplicity'] as const
type Column = (typeof columns)[number]

/** Marks of a file, the size of the last digit typed, and what was left unread. */
export interface MarksRead {
  readonly marks: readonly TraceMark[]
  readonly lastDigit: number
  readonly warnings: readonly string[]
}

type Cells = Readonly<Partial<Record<Column, string>>>

const directionOf = (text: string): 1 | -1 | null => (/^[-−]/.test(text) ? -1 : /^\+/.test(text) ? 1 : null)

/** More commands than any run has; a larger number is a slip of the finger. */
const mostCommands = 10_000_000

/** A field that must hold a whole number when it holds anything. */
const wholeField = (cells: Cells, column: Column, row: Row, least: number): number | null | Unmeasurable => {
  const text = cells[column]
  if (text === undefined || text === '') return null
  const value = readNumber(text)
  if (value !== null && Number.isInteger(value) && value >= least && Math.abs(value) <= mostCommands) return value
  return unmeasurable(`${column} "${text}" is not a whole number${least === 0 ? ' of 0 or more' : ''} below 10 million`, `line ${row.line}`, `correct it or leave the ${column} empty`)
}

const positionField = (text: string, row: Row, decimalComma: boolean): number | Unmeasurable => {
  const value = readNumber(text, decimalComma)
  if (value !== null && Math.abs(value) < 1e9) return value
  if (text === '') return unmeasurable('there is no position', `line ${row.line}`, 'type what that mark reads, photograph the marks instead, or remove the line')
  if (text.toLowerCase() === 'position') return unmeasurable('the columns are named again, as where a second run begins', `line ${row.line}`, 'put each run in a file of its own, or take that line out and number the runs in a pass column')
  if (/^[-+−]?\d[\d.,]*\s*(°|[a-z"']+)$/i.test(text)) return unmeasurable(`position "${text}" holds more than a number`, `line ${row.line}`, 'type the number alone and its unit once, above all: "# position-unit: mm" or the like')
  return unmeasurable(`position "${text}" is not a finite number`, `line ${row.line}`, 'type the position as digits with one decimal point, or remove the line')
}

const markOf = (cells: Cells, row: Row, decimalComma: boolean): TraceMark | Unmeasurable => {
  const position = positionField(cells.position ?? '', row, decimalComma)
  const command = wholeField(cells, 'command', row, Number.NEGATIVE_INFINITY)
  const tally = wholeField(cells, 'tally', row, 0)
  const pass = wholeField(cells, 'pass', row, 0)
  const multiplicity = wholeField(cells, 'multiplicity', row, 1)
  const direction = directionOf(cells.direction ?? '')
  for (const outcome of [position, command, tally, pass, multiplicity]) if (isUnmeasurable(outcome)) return outcome
  if (direction === null && (cells.direction ?? '') !== '') return unmeasurable(`direction "${cells.direction}" is neither + nor -`, `line ${row.line}`, 'write + for the outward run and - for the return')
  const u = readNumber(cells.uncertainty ?? '', decimalComma)
  return {
    line: row.line,
    position: position as number,
    command: command as number | null,
    tally: tally as number | null,
    pass: (pass as number | null) ?? 1,
    direction,
    note: cells.note ?? '',
    u: u !== null && u >= 0 ? u : null,
    multiplicity: (multiplicity as number | null) ?? 1,
  }
}

const isColumn = (text: string): boolean => columns.some((column) => column === text.toLowerCase())

/** A name of a column, ours or a stranger's: words, with whatever units beside them, and no number in front. */
const isName = (field: string): boolean => /^[^\d+−-]*\p{L}/u.test(field)

const isHeader = ({ fields }: Row): boolean => fields.some(isColumn) || (fields.some(isName) && fields.every((field) => field === '' || isName(field)))

/** Numbers, or names of columns, with nothing but spaces between them. */
const spaced = (text: string): boolean => text.includes(' ') && (text.split(/ +/).some(isColumn) || text.split(/ +/).every((part) => readNumber(part) !== null))

/** No heading of a column is longer; what is, is a sentence. */
const longestName = 40

/** What is wrong with a first row that names columns but not the one that is wanted. */
const unnamed = ({ fields, line }: Row): Unmeasurable => {
  const given = fields.filter((field) => field !== '').map((field) => `"${field}"`)
  if (fields.some((field) => field.length > longestName)) return unmeasurable('there are sentences where the positions of marks are expected', `line ${line}`, 'give the file that holds the marks, one position per line, or begin a remark with #')
  if (given.length === 1) return unmeasurable(`no column is named position, and ${given[0]} is no mark`, `line ${line}`, 'name the column that holds the marks "position", or begin a remark with #')
  return unmeasurable(`no column is named position, only ${given.join(', ')}`, `line ${line}`, `name the column that holds the marks "position"${fields.some(isColumn) ? '' : ', and that of the command numbers "command"'}`)
}

/** Column names of the table, or what is wrong with it. */
const namesOf = (first: Row, decimalComma: boolean): readonly string[] | Unmeasurable => {
  const [only = '', ...more] = first.fields
  if (more.length === 0 && spaced(only)) return unmeasurable('fields stand apart by spaces', `line ${first.line}`, 'set them apart by a comma, ; or tab, below a line that names them, such as position,command')
  if (!isHeader(first)) {
    if (more.length > 0) return unmeasurable('several fields but no line that names the columns', `line ${first.line}`, 'write a point where the comma is a decimal one, or put "position,command" or the like above them')
    const position = positionField(only, first, decimalComma)
    return isUnmeasurable(position) ? position : ['position']
  }
  const names = first.fields.map((field) => field.toLowerCase())
  return names.includes('position') ? names : unnamed(first)
}

/**
 * Field rows → marks.
 * @returns Unmeasurable naming the line for the first field that cannot be read
 */
export const readMarks = ({ rows, decimalComma }: Table): MarksRead | Unmeasurable => {
  const first = rows[0]
  if (!first) return unmeasurable('there are no marks in it', 'the trace', 'give one mark position per line')
  const names = namesOf(first, decimalComma)
  if (isUnmeasurable(names)) return names
  const unread = names.filter((name) => name !== '' && !columns.some((column) => column === name))
  const marks: TraceMark[] = []
  let digit = Number.POSITIVE_INFINITY
  for (const row of isHeader(first) ? rows.slice(1) : rows) {
    if (row.fields.length > names.length && row.fields.slice(names.length).some((field) => field !== ''))
      return unmeasurable(`there are ${row.fields.length} fields for ${names.length} columns`, `line ${row.line}`, 'use a point for the decimals, or ; between the fields with a decimal comma')
    const cells = Object.fromEntries(names.map((name, i) => [name, row.fields[i] ?? ''])) as Cells
    const mark = markOf(cells, row, decimalComma)
    if (isUnmeasurable(mark)) return mark
    if (mark.position !== 0) digit = Math.min(digit, lastDigit(cells.position ?? ''))
    marks.push(mark)
  }
  const warnings = unread.map((name) => `The column "${name}" is not one this tool reads; it was left out.`)
  return { marks, lastDigit: Number.isFinite(digit) ? digit : 0, warnings }
}
