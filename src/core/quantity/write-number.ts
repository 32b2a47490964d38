/** A number with so many significant digits, never in exponent form between 1e-9 and 1e12; "–" when not finite. */
export const writeNumber = (value: number, digits = 4): string => {
  if (!Number.isFinite(value)) return '–'
  const rounded = Number(value.toPrecision(digits))
  if (rounded === 0) return '0'
  const decimals = Math.max(0, Math.min(12, digits - 1 - Math.floor(Math.log10(Math.abs(rounded)))))
  return Number(rounded.toFixed(decimals)).toLocaleString('en', { maximumFractionDigits: decimals, useGrouping: false })
}

/** Two significant digits, zeros kept, or whole numbers from 100 on: "0.20", "152". */
export const twoDigits = (value: number): string => (Math.abs(value) < 99.5 ? value.toPrecision(2) : value.toFixed(0))
