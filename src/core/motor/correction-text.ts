import type { CorrectionTable } from './correction-table.ts'

/** What of a table goes to paper. */
type Written = Omit<CorrectionTable, 'kind' | 'direction'> & { readonly direction: number }

const rounded = (value: number): number => Number(value.toFixed(3))

/** The table as CSV: `#` lines with what it is for and what it promises (as a prediction), a header, one row per command; angles in electrical degrees. */
export const correctionCsv = (table: Written): string =>
  [
    `# microsteps: ${table.microsteps}`,
    `# direction: ${table.direction > 0 ? '+' : '-'}`,
    `# predicted effective microsteps: ${table.after.value.toFixed(2)} (at least ${table.after.low.toFixed(2)}), without table ${table.before.value.toFixed(2)}`,
    '# electrical degrees; command 0 is the first mark of the trace; add the offset to the nominal phase',
    'command,nominal_phase_deg,offset_deg',
    ...table.rows.map((row) => `${row.command},${rounded(row.nominalPhaseDeg)},${row.offsetDeg.toFixed(3)}`),
    '',
  ].join('\n')

/** The same as JSON, two spaces of indent, one newline at the end. */
export const correctionJson = (table: Written): string => {
  const rows = table.rows.map((row) => ({ ...row, nominalPhaseDeg: rounded(row.nominalPhaseDeg), offsetDeg: rounded(row.offsetDeg) }))
  return `${JSON.stringify({ unit: 'electrical degrees', prediction: true, ...table, rows }, null, 2)}\n`
}
