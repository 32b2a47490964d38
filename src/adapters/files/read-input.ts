import { createHash } from 'node:crypto'
import { readFile, stat } from 'node:fs/promises'
import { basename, extname } from 'node:path'
import { oneLine } from '#core/quantity/one-line'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { systemReason } from './system-reason.ts'

/** A file as given, with what tells it from any other. */
export interface InputFile {
  readonly kind: 'typed' | 'photo'
  readonly name: string
  readonly bytes: Uint8Array
  readonly sha256: string
}

/** Largest file that is read at all: an uncompressed 50-megapixel picture. */
const mostBytes = 200e6

const pictureNames = ['.jpg', '.jpeg', '.png', '.webp', '.heic', '.heif', '.avif', '.tif', '.tiff']

const startsWith = (bytes: Uint8Array, text: string, at = 0): boolean => [...text].every((letter, i) => bytes[at + i] === letter.charCodeAt(0))

const looksLikePicture = (bytes: Uint8Array): boolean =>
  (bytes[0] === 0xff && bytes[1] === 0xd8) || startsWith(bytes, 'PNG', 1) || (startsWith(bytes, 'RIFF') && startsWith(bytes, 'WEBP', 8)) || startsWith(bytes, 'ftyp', 4)

/** Reads a trace or photo; which of the two is told by its first bytes, then by its name. */
export const readInput = async (path: string): Promise<InputFile | Unmeasurable> => {
  const name = oneLine(basename(path))
  try {
    const found = await stat(path)
    if (!found.isFile()) return unmeasurable('this is not a file', name, 'give a trace file or a photo')
    if (found.size > mostBytes) return unmeasurable(`the file is larger than ${mostBytes / 1e6} MB`, name, 'give a trace file or a JPEG photo')
    const bytes = await readFile(path)
    const photo = looksLikePicture(bytes) || pictureNames.includes(extname(name).toLowerCase())
    return { kind: photo ? 'photo' : 'typed', name, bytes, sha256: createHash('sha256').update(bytes).digest('hex') }
  } catch (error) {
    const code = (error as { code?: string }).code
    return unmeasurable(code === 'ENOENT' ? 'there is no such file' : `it cannot be read (${systemReason(error)})`, name, 'check the name and that you may read it')
  }
}
