import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, open, realpath, rm } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { foreignIn } from './foreign-in.ts'
import { scratchPrefix, swapIn } from './swap-folder.ts'
import { systemReason } from './system-reason.ts'
import { tidied } from './tidied.ts'

/** Files of a folder by their path inside it. */
export type FolderContents = ReadonlyMap<string, string | Uint8Array>

const writeDurably = async (path: string, content: string | Uint8Array): Promise<void> => {
  const file = await open(path, 'wx')
  try {
    await file.writeFile(content)
    await file.sync()
  } finally {
    await file.close()
  }
}

/** Flushes a folder's own entries, where the system lets a folder be opened. */
const flushFolder = async (path: string): Promise<void> => {
  const folder = await open(path, 'r').catch(() => null)
  await folder?.sync().catch(() => undefined)
  await folder?.close()
}

const writeAll = async (folder: string, contents: FolderContents): Promise<void> => {
  const folders = [...new Set([...contents.keys()].map((name) => dirname(join(folder, name))))]
  await mkdir(folder)
  for (const each of folders) await mkdir(each, { recursive: true })
  for (const [name, content] of contents) await writeDurably(join(folder, name), content)
  for (const each of new Set([...folders, folder])) await flushFolder(each)
}

const causes: Readonly<Record<string, readonly [what: string, remedy: string]>> = {
  ENOSPC: ['the disk is full; nothing was changed', 'free some space or choose another place with --out'],
  EDQUOT: ['your share of the disk is used up; nothing was changed', 'free some space or choose another place with --out'],
  EFBIG: ['a file would be larger than the system lets you write; nothing was changed', 'raise the limit or choose another place with --out'],
  EROFS: ['the place is read-only; nothing was changed', 'choose another place with --out'],
  EACCES: ['you may not write there; nothing was changed', 'choose another place with --out'],
  EPERM: ['you may not write there; nothing was changed', 'choose another place with --out'],
  ENOTDIR: ['a part of the path is a file, not a folder; nothing was changed', 'choose another place with --out'],
  ENAMETOOLONG: ['the name is too long; nothing was changed', 'choose a shorter name with --out'],
}

/** What stopped a write, for a person. */
const refusal = (error: unknown, folder: string): Unmeasurable => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason'
  const [what, remedy] = causes[code] ?? [`the folder cannot be written (${systemReason(error)}); nothing was changed`, 'choose another place with --out']
  return unmeasurable(what, folder, remedy)
}

const replace = async (target: string, contents: FolderContents): Promise<void> => {
  const scratch = await mkdtemp(scratchPrefix(target))
  try {
    await writeAll(join(scratch, 'new'), contents)
    swapIn(target, scratch)
    await flushFolder(dirname(target))
  } finally {
    // When not even the earlier folder could be put back, it stays beside.
    if (existsSync(target) || !existsSync(join(scratch, 'old-0'))) await rm(scratch, { recursive: true, force: true }).catch(() => undefined)
  }
}

/**
 * Writes a folder whole or not at all, whatever other runs do with it meanwhile: everything goes to a neighbour first, is flushed, and takes the
 * place of the earlier folder by rename. A stop at any moment leaves the earlier folder or the new one; one in the instant
 * between the two renames leaves the earlier one beside, and the next run puts it back. A folder with a file in it that
 * this tool did not write is never replaced.
 */
export const writeFolder = async (folder: string, contents: FolderContents): Promise<null | Unmeasurable> => {
  try {
    const named = resolve(folder)
    await mkdir(dirname(named), { recursive: true })
    const target = await realpath(named).catch(() => named)
    await tidied(target)
    const foreign = await foreignIn(target)
    if (foreign === null) {
      await replace(target, contents)
      return null
    }
    return unmeasurable(`the folder holds ${foreign === basename(target) ? 'no evidence of this tool' : `"${foreign}", which this tool did not write`}`, folder, 'move it away, or choose an empty or new folder with --out')
  } catch (error) {
    return refusal(error, folder)
  }
}
