import { oneLine } from './one-line.ts'

/** One field of a CSV row: one line without control characters, quoted where needed, never a spreadsheet formula. */
export const csvField = (text: string): string => {
  const plain = oneLine(text)
  const tame = /^[=+\-@|]/.test(plain) && !/^[+-]?\d*\.?\d+$/.test(plain) ? `'${plain}` : plain
  return /[",;#\t]/.test(tame) ? `"${tame.replaceAll('"', '""')}"` : tame
}
