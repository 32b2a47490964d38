import { writeNumber } from '#core/quantity/write-number'

/** What stands for a figure nobody can know. */
export const notKnown = '–'

const minus = (text: string): string => (/^-[0.]*$/.test(text) ? text.slice(1) : text.replace(/^-/, '−'))

/**
 * Decimals to write so that an uncertainty shows two significant digits (JCGM 100, 7.2.6); negative where whole tens
 * are all that is left. 0.0996 rounds up to 0.10 and so takes two decimals, not three.
 */
export const decimalsFor = (uncertainty: number): number => {
  const rounded = Number(uncertainty.toPrecision(2))
  return Math.min(12, 1 - Math.floor(Math.log10(rounded)))
}

/** A value to so many decimals, with a true minus sign; negative decimals round to tens, hundreds … */
export const fixed = (value: number, decimals: number): string => {
  if (!Number.isFinite(value)) return notKnown
  if (decimals >= 0) return minus(value.toFixed(decimals))
  const size = 10 ** -decimals
  return minus((Math.round(value / size) * size).toFixed(0))
}

/** The unit as it stands behind a number: ° and % close up, words keep a space. */
export const withUnit = (text: string, unit: string): string => (unit === '' || text === notKnown ? text : /^[°%]/.test(unit) ? `${text}${unit === '%' ? ' %' : unit}` : `${text} ${unit}`)

/** A value with nothing said about its uncertainty: four significant digits. */
export const plainNumber = (value: number | null | undefined, digits = 4): string => (value === null || value === undefined ? notKnown : minus(writeNumber(value, digits)))

/**
 * "0.811 ± 0.012 °"-style text without the unit: both rounded to two significant digits of the expanded uncertainty.
 * @param expanded 0 or null: the value alone
 */
export const valueAndU = (value: number | null | undefined, expanded: number | null): string => {
  if (value === null || value === undefined) return notKnown
  if (expanded === null || !(expanded > 0) || !Number.isFinite(expanded)) return plainNumber(value)
  const decimals = decimalsFor(expanded)
  return `${fixed(value, decimals)} ± ${fixed(expanded, decimals)}`
}

/** Decimals for an interval: two significant digits of half its width, but never more than five of its larger end. */
export const decimalsBetween = (low: number, high: number): number =>
  Math.min(decimalsFor((high - low) / 2), 4 - Math.floor(Math.log10(Math.max(Math.abs(low), Math.abs(high)))))

/** "3.89 (3.71 to 4.02)": value and interval, rounded to what its width says. */
export const valueAndInterval = ({ value, low, high }: { readonly value: number; readonly low: number; readonly high: number }): string => {
  if (!(high > low)) return plainNumber(value)
  const decimals = decimalsBetween(low, high)
  return `${fixed(value, decimals)} (${fixed(low, decimals)} to ${fixed(high, decimals)})`
}

/** "1.32 (1.21 to 1.44)" of one motor to another; the ratio alone where an end is open. */
export const ratioText = ({ ratio, ratioInterval }: { readonly ratio: number; readonly ratioInterval: readonly [number, number] | null }): string =>
  ratioInterval ? valueAndInterval({ value: ratio, low: ratioInterval[0], high: ratioInterval[1] }) : plainNumber(ratio, 3)

/** "0.46 to 1.55", rounded to what the width says. */
export const intervalText = ([low, high]: readonly [number, number]): string => {
  if (!(high > low)) return plainNumber(low)
  const decimals = decimalsBetween(low, high)
  return `${fixed(low, decimals)} to ${fixed(high, decimals)}`
}

const raised = (power: number): string => [...String(power)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '').join('')

/** Log odds as "about 4 times" or "about 10³³ times". */
export const timesText = (logOdds: number): string => {
  const power = logOdds / Math.LN10
  return power < 3 ? `about ${plainNumber(Math.exp(logOdds), 2)} times` : `about 10${raised(Math.floor(power))} times`
}
