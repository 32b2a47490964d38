import { plainNumber } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'
import { paragraph, section, table } from './parts.ts'

/** Rows beyond which the table is left to correction.csv. */
const mostRows = 64

/** Electrical angles that would bring the shaft to its nominal positions; or why none are given; null where no cause was looked for. */
export const sectionCorrection = ({ correction, motorFit }: Result): string | null => {
  if (correction.withheld !== null) return motorFit && section('correction', 'Correcting the current', paragraph(`No correction table: ${correction.withheld}`))
  const rows = correction.rows.slice(0, mostRows).map(({ command, nominalPhaseDeg, offsetDeg }) => [String(command), plainNumber(nominalPhaseDeg), plainNumber(offsetDeg, 3)])
  const rest = correction.rows.length > mostRows ? paragraph(`The first ${mostRows} of ${correction.rows.length} rows; all are in correction.csv.`) : ''
  return section(
    'correction',
    'Correcting the current',
    paragraph('For a driver whose currents can be set freely: the electrical angle to command instead of the nominal one, as the fitted model has it. A prediction, to be confirmed by a second test. The same stands in correction.csv and correction.json.') +
      paragraph(`Predicted effective microsteps: ${plainNumber(correction.after.value, 3)} (at least ${plainNumber(correction.after.low, 3)}) with it, ${plainNumber(correction.before.value, 3)} without.`) +
      table({ caption: 'Correction over one electrical cycle', head: ['command', 'nominal electrical angle, deg', 'add, deg'], rows, numeric: [1, 2] }) +
      rest,
  )
}
