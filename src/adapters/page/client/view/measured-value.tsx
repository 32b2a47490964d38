import { intervalText, plainNumber } from '#core/report/number-text'

/** A value in a table with its interval below it. */
export const MeasuredValue = ({ of: { value, low, high }, digits = 4 }: { readonly of: { readonly value: number; readonly low: number; readonly high: number }; readonly digits?: number }) => (
  <>{plainNumber(value, digits)}{high > low && <small class="interval">{intervalText([low, high])}</small>}</>
)
