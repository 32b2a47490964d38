import { readdir, readFile, realpath } from 'node:fs/promises'
import { join } from 'node:path'
import { lock } from 'proper-lockfile'
import writeFileAtomic from 'write-file-atomic'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { NoteText } from '#core/report/note/note-index'
import { systemReason } from './system-reason.ts'

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason'

const refusal = (error: unknown, path: string): Unmeasurable => {
  const code = codeOf(error)
  if (code === 'ENOENT')
    return unmeasurable('there is no such note', path, 'begin one with note --new, or give the right path')
  if (code === 'ELOCKED')
    return unmeasurable('another run is writing it and does not finish', path, 'try again; nothing was changed')
  if (code === 'EISDIR') return unmeasurable('it is a folder', path, 'give the Markdown file in it')
  if (code === 'ENOSPC')
    return unmeasurable('the disk is full; nothing was changed', path, 'free some space and try again')
  if (code === 'EROFS' || code === 'EACCES')
    return unmeasurable('you may not read or write there; nothing was changed', path, 'check its permissions')
  return unmeasurable(
    `it cannot be read or written (${systemReason(error)}); nothing was changed`,
    path,
    'check the file and its permissions',
  )
}

/** Bytes → text that gives back the same bytes; only UTF-8, with or without a byte order mark. */
export const decodeNote = (bytes: Uint8Array, path: string): string | Unmeasurable => {
  const other = unmeasurable('it is not UTF-8 text; nothing was changed', path, 'save the note as UTF-8')
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
    return text.includes('\0') ? other : text
  } catch {
    return other
  }
}

// Many runs may wait for one note: a second or two in all, each wait a little different from the last.
const patience = {
  retries: { retries: 200, factor: 1, minTimeout: 30, maxTimeout: 120, randomize: true },
  stale: 3000,
  update: 1000,
}

const edited = async (
  path: string,
  edit: (text: string) => string | Unmeasurable,
): Promise<{ readonly changed: boolean } | Unmeasurable> => {
  const before = decodeNote(await readFile(path), path)
  if (typeof before !== 'string') return before
  const after = edit(before)
  if (isUnmeasurable(after)) return { ...after, where: `${path}, ${after.where}` }
  if (after !== before) await writeFileAtomic(path, after, 'utf8')
  return { changed: after !== before }
}

/**
 * Changes a note whole or not at all, one run at a time: the file is locked, read, edited and replaced by rename. The note is
 * written only when the edit changed it.
 */
export const editNote = async (
  path: string,
  edit: (text: string) => string | Unmeasurable,
): Promise<{ readonly changed: boolean } | Unmeasurable> => {
  try {
    const real = await realpath(path)
    const release = await lock(real, patience)
    try {
      return await edited(real, edit)
    } finally {
      await release()
    }
  } catch (error) {
    return refusal(error, path)
  }
}

/** Every Markdown file of a folder and the folders in it, dot folders and node_modules left out; those that are not UTF-8 become warnings. */
export const readNotes = async (
  folder: string,
): Promise<{ readonly notes: readonly NoteText[]; readonly warnings: readonly string[] } | Unmeasurable> => {
  try {
    const entries = await readdir(folder, { recursive: true, withFileTypes: true })
    const paths = entries
      .filter((entry) => entry.isFile() && /\.(?:md|markdown)$/i.test(entry.name))
      .map((entry) => join(entry.parentPath, entry.name))
      .filter((path) => !/(?:^|[\\/])(?:\.[^\\/.]|node_modules[\\/])/.test(path.slice(folder.length)))
    const read = await Promise.all(paths.map(async (path) => ({ path, text: decodeNote(await readFile(path), path) })))
    const name = (path: string): string => path.slice(join(folder, '/').length).replaceAll('\\', '/')
    return {
      notes: read.flatMap(({ path, text }) => (typeof text === 'string' ? [{ path: name(path), text }] : [])),
      warnings: read.flatMap(({ path, text }) =>
        typeof text === 'string' ? [] : [`${name(path)}: it is not UTF-8 text and was left out`],
      ),
    }
  } catch (error) {
    return unmeasurable(
      codeOf(error) === 'ENOENT' ? 'there is no such folder' : `it cannot be read (${systemReason(error)})`,
      folder,
      'give the folder that holds the notes',
    )
  }
}
