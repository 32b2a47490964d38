import { escapeHtml } from './escape.ts'

/** One section of the report; the body is HTML already. */
export const section = (id: string, title: string, body: string): string => `<section id="${id}" aria-labelledby="${id}-title"><h2 id="${id}-title">${escapeHtml(title)}</h2>${body}</section>`

export const paragraph = (text: string): string => `<p>${escapeHtml(text)}</p>`

export const list = (items: readonly string[]): string => `<ul>${items.map((item) => `<li>${escapeHtml(item)}</li>`).join('')}</ul>`

/** Text of a cell, with a quieter remark below it where there is one. */
export type Cell = string | { readonly text: string; readonly remark: string }

const cellHtml = (cell: Cell): string => (typeof cell === 'string' ? escapeHtml(cell) : `${escapeHtml(cell.text)}<span class="remark">${escapeHtml(cell.remark)}</span>`)

export interface TableSpec {
  readonly caption: string
  readonly head: readonly string[]
  /** Text, escaped here; the first cell of a row names it. */
  readonly rows: readonly (readonly Cell[])[]
  /** Columns that hold numbers, counted from 0. */
  readonly numeric?: readonly number[]
  /** Class of a row, for its state. */
  readonly rowClass?: readonly string[]
}

/** A table with caption and row heads; scrolls by itself where the page is narrow. */
export const table = ({ caption, head, rows, numeric = [], rowClass = [] }: TableSpec): string => {
  const className = (column: number): string => (numeric.includes(column) ? ' class="number"' : '')
  const headRow = head.map((name, i) => `<th scope="col"${className(i)}>${escapeHtml(name)}</th>`).join('')
  const body = rows.map((row, r) => {
    const [first = '', ...rest] = row
    const state = rowClass[r] ? ` class="${escapeHtml(rowClass[r])}"` : ''
    return `<tr${state}><th scope="row">${cellHtml(first)}</th>${rest.map((cell, i) => `<td${className(i + 1)}>${cellHtml(cell)}</td>`).join('')}</tr>`
  })
  return `<div class="table" role="region" tabindex="0" aria-label="${escapeHtml(caption)}"><table><caption>${escapeHtml(caption)}</caption><thead><tr>${headRow}</tr></thead><tbody>${body.join('')}</tbody></table></div>`
}
