/** Readings typed in one line, each "name: value": a comma before another name parts two; one before digits alone is a decimal comma. */
export const splitReadings = (text: string): readonly string[] =>
  text
    .replace(/[,;\s]+$/, '')
    .split(/;|,(?=[^,;]*[:=])/)
    .map((reading) => reading.trim())
    .filter((reading) => reading !== '')
