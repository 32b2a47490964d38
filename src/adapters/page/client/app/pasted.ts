import { takeApart } from '#core/ingest/table'
import { readPositionUnit } from '#core/quantity/position-unit'
import { gridColumns } from '#core/review/work'

/** A unit in words, by the sign that the page's choice knows it by. */
const chosen = (key: string, value: string): string => (key === 'position-unit' ? (readPositionUnit(value) ?? value) : value)

type Rows = readonly (readonly string[])[]

/** Cells pasted from a spreadsheet or a trace file, laid down from a cell on; a line of column names says which is which. */
export const pasted = (rows: Rows, [row, column]: readonly [number, number], text: string): { readonly rows: Rows; readonly setUp: Readonly<Record<string, string>> } => {
  const table = takeApart(text)
  const names = table.rows[0]?.fields.map((field) => field.toLowerCase()) ?? []
  const named = names.includes('position')
  const places = named ? names.map((name) => gridColumns.indexOf(name as (typeof gridColumns)[number])) : names.map((_, i) => column + i)
  const lines = named ? table.rows.slice(1) : table.rows
  let next = [...rows]
  while (next.length < row + lines.length) next = [...next, []]
  lines.forEach(({ fields }, i) => {
    next[row + i] = gridColumns.map((_, c) => {
      const from = places.indexOf(c)
      return from < 0 ? (next[row + i]?.[c] ?? '') : (fields[from] ?? '')
    })
  })
  return { rows: next, setUp: Object.fromEntries(table.head.map(({ key, value }) => [key, chosen(key, value)])) }
}
