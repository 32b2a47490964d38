import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string }

const remedy = 'save it as plain text in UTF-8 (CSV) and try again'

/** Two zero-interleaved bytes in a row, or a UTF-16 byte-order mark. */
const looksUtf16 = (bytes: Uint8Array): boolean =>
  (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff) || (bytes[0] === 0) !== (bytes[1] === 0)

/**
 * Bytes of a text file → text without a byte-order mark.
 * @param where the file's name, for the message
 * @returns Unmeasurable for UTF-16, for other encodings and for binary data; an encoding is never guessed
 */
export const decodeText = (bytes: Uint8Array, where: string): string | Unmeasurable => {
  if (bytes.length > 1 && looksUtf16(bytes)) return unmeasurable('the text is UTF-16, not UTF-8', where, remedy)
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    const control = [...text.slice(0, 4096)].findIndex((c) => c < ' ' && !'\t\n\r\f'.includes(c))
    return control < 0 ? text : unmeasurable('this is not a text file', where, remedy)
  } catch {
    return unmeasurable('the file is not UTF-8 text', where, remedy)
  }
}
