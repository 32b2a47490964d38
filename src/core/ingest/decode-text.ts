import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string }

const remedy = 'save it as plain text in UTF-8 (CSV) and try again'

/** UTF-16 is read where the file's own first two bytes say so, as spreadsheets write it ("Unicode text"). */
const encodingOf = ([first, second]: Uint8Array): string =>
  first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : 'utf-8'

/**
 * Bytes of a text file → text without a byte-order mark.
 * @param where the file's name, for the message
 * @returns Unmeasurable for UTF-16 that does not say which way round it is, for other encodings and for binary data; an encoding is never guessed
 */
export const decodeText = (bytes: Uint8Array, where: string): string | Unmeasurable => {
  const encoding = encodingOf(bytes)
  if (bytes.length > 1 && (bytes[0] === 0) !== (bytes[1] === 0)) return unmeasurable('the text is UTF-16 without a byte-order mark', where, remedy)
  try {
    const text = new TextDecoder(encoding, { fatal: true }).decode(bytes)
    const control = [...text.slice(0, 4096)].findIndex((c) => c < ' ' && !'\t\n\r\f'.includes(c))
    return control < 0 ? text : unmeasurable('this is not a text file', where, remedy)
  } catch {
    return unmeasurable(`the file is not ${encoding === 'utf-8' ? 'UTF-8' : 'UTF-16'} text`, where, remedy)
  }
}
