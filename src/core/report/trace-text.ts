import Papa from 'papaparse'
import { oneLine } from '#core/quantity/one-line'

/** Columns of a trace file, in order. */
export const traceColumns = ['position', 'command', 'tally', 'pass', 'direction', 'note', 'uncertainty', 'confidence', 'multiplicity'] as const
export type TraceColumn = (typeof traceColumns)[number]

export type TraceRow = Readonly<Partial<Record<TraceColumn, string>>>

/**
 * Text from people as a spreadsheet should show it: what would start a formula (= + - @) gets an apostrophe before it,
 * once, however often it is written and read again. (Common practice for CSV: OWASP, CSV injection.)
 */
export const guarded = (text: string): string => {
  const line = oneLine(text)
  return /^[=+\-@＝＋－＠]/.test(line) ? `'${line}` : line
}

/**
 * A number as it was typed: as many decimals as the finest of its column, so that reading it again finds the same value
 * and the same last digit.
 * @param lastDigit size of the last digit; 0 when the numbers were not typed
 */
export const typedNumber = (value: number, lastDigit: number): string => {
  if (!(lastDigit > 0)) return String(value)
  const digits = Math.round(-Math.log10(lastDigit))
  const text = digits >= 0 ? value.toFixed(Math.min(100, digits)) : `${Math.round(value / 10 ** -digits)}e${-digits}`
  return Number(text) === value ? text : String(value)
}

/** Head lines and rows → a trace file. Columns the format fixes are always there; the last two only where used. */
export const traceText = (head: readonly (readonly [key: string, value: string])[], rows: readonly TraceRow[], remarks: readonly string[] = []): string => {
  const columns = traceColumns.filter((column, i) => i < 7 || rows.some((row) => row[column] !== undefined))
  const table = Papa.unparse([[...columns], ...rows.map((row) => columns.map((column) => row[column] ?? ''))], { newline: '\n' })
  return `${[...remarks.map((remark) => `# ${oneLine(remark)}`), ...head.map(([key, value]) => `# ${key}: ${oneLine(value)}`), table].join('\n')}\n`
}
