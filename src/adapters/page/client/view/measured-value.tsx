import { decimalsBetween, fixed, intervalText, plainNumber } from '#core/report/number-text'

/** A value in a table with its interval below it, both to what the interval's width says. */
export const MeasuredValue = ({ of: { value, low, high } }: { readonly of: { readonly value: number; readonly low: number; readonly high: number } }) => (
  <>{high > low ? fixed(value, decimalsBetween(low, high)) : plainNumber(value)}{high > low && <small class="interval">{intervalText([low, high])}</small>}</>
)
