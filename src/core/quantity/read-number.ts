const plain = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i

/**
 * A number as people type it: sign (also −), digits, one decimal point, optional exponent.
 * @param decimalComma read 1,91 as 1.91
 * @returns null for anything else, NaN and infinities included
 */
export const readNumber = (text: string, decimalComma = false): number | null => {
  const tidy = text.trim().replace(/[−–]/g, '-')
  const pointed = decimalComma && !tidy.includes('.') ? tidy.replace(',', '.') : tidy
  const value = plain.test(pointed) ? Number(pointed) : Number.NaN
  return Number.isFinite(value) ? value : null
}

/** "1,520": thousands or a decimal comma, who knows. */
export const thousands = /^[+-]?[1-9]\d{0,2},\d{3}$/

/** One number alone, as people type it: a decimal comma is read, but for one that could mean thousands; null for that and for anything else. */
export const readLoneNumber = (text: string): number | null => readNumber(text, !thousands.test(text.trim()))

/** Size of the last digit typed: 0.01 for 1.91, 1 for 12, 0 for something that is no number. */
export const lastDigit = (text: string): number => {
  const match = /^[+-]?\d*(?:[.,](\d*))?(?:e([+-]?\d+))?$/i.exec(text.trim().replace(/[−–]/g, '-'))
  return match ? 10 ** (Number(match[2] ?? 0) - (match[1]?.length ?? 0)) : 0
}
