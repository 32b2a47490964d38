import Papa from 'papaparse'

/** A field row of the file with the line it stands on (1 = first). */
export interface Row {
  readonly line: number
  readonly fields: readonly string[]
}

/** A trace file taken apart, nothing interpreted yet. */
export interface Table {
  readonly head: readonly { readonly line: number; readonly key: string; readonly value: string }[]
  readonly rows: readonly Row[]
  /** Decimal commas may be read: fields are kept apart by something else. */
  readonly decimalComma: boolean
}

const separatorOf = (line: string): string => (line.includes('\t') ? '\t' : line.includes(';') ? ';' : ',')

/** A remark behind a value is set off by space and #; a motor's name may hold a single # of its own. */
const withoutRemark = (key: string, value: string): string => value.replace(key === 'motor' ? /\s{2,}#.*$/ : /\s+#.*$/, '').trim()

/**
 * Text of a trace file → set-up lines and field rows. Any line ending; `,` `;` or tab, found from the first row.
 * Empty lines and lines that start with # without `key: value` are skipped.
 */
export const takeApart = (text: string): Table => {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/)
  const first = lines.find((line) => line.trim() !== '' && !line.trimStart().startsWith('#')) ?? ''
  const delimiter = separatorOf(first)
  const head = lines.flatMap((content, index) => {
    const match = /^\s*#\s*([a-z][a-z0-9_-]*)\s*:\s*(.*)$/i.exec(content)
    const key = match?.[1]?.toLowerCase().replaceAll('_', '-') ?? ''
    return match ? [{ line: index + 1, key, value: withoutRemark(key, match[2] ?? '') }] : []
  })
  const kept = lines.flatMap((content, index) => (content.trim() === '' || content.trimStart().startsWith('#') ? [] : [{ content, line: index + 1 }]))
  const parsed = Papa.parse<string[]>(kept.map(({ content }) => content).join('\n'), { delimiter, newline: '\n' }).data
  const rows = kept.length === 0 ? [] : parsed.map((fields, index) => ({ line: kept[index]?.line ?? lines.length, fields: fields.map((field) => field.trim()) }))
  return { head, rows, decimalComma: delimiter !== ',' }
}
