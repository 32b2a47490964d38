/** One field of a CSV row: control characters out, quoted where needed, never a spreadsheet formula. */
export const csvField = (text: string): string => {
  const plain = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]/g, ' ').trim()
  const tame = /^[=+\-@|]/.test(plain) && !/^[+-]?\d*\.?\d+$/.test(plain) ? `'${plain}` : plain
  return /[",;#\t]/.test(tame) ? `"${tame.replaceAll('"', '""')}"` : tame
}
