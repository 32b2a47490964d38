import { mkdir, mkdtemp, open, readdir, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** Files of a folder by their path inside it. */
export type FolderContents = ReadonlyMap<string, string | Uint8Array>

/** Only an evidence folder or an empty one is ever replaced. */
const mayReplace = async (target: string): Promise<boolean> => {
  const found = await stat(target).catch(() => null)
  if (!found) return true
  const names = found.isDirectory() ? await readdir(target) : ['a file']
  return names.length === 0 || names.includes('result.json')
}

const writeDurably = async (path: string, content: string | Uint8Array): Promise<void> => {
  await mkdir(dirname(path), { recursive: true })
  const file = await open(path, 'wx')
  try {
    await file.writeFile(content)
    await file.sync()
  } finally {
    await file.close()
  }
}

const refusal = (error: unknown, target: string): Unmeasurable => {
  const code = (error as { code?: string }).code ?? 'unknown reason'
  return unmeasurable(code === 'ENOSPC' ? 'the disk is full; nothing was changed' : `the folder cannot be written (${code}); nothing was changed`, target, 'free some space or choose another place with --out')
}

/**
 * Writes a folder whole or not at all: everything goes to a neighbour first, is flushed, and takes the place of the
 * earlier folder by rename. A stop halfway leaves the earlier folder or none.
 */
export const writeFolder = async (folder: string, contents: FolderContents): Promise<null | Unmeasurable> => {
  const target = resolve(folder)
  if (!(await mayReplace(target))) return unmeasurable('the folder holds something that is not evidence of this tool', folder, 'choose an empty or new folder with --out')
  let scratch: string | null = null
  try {
    await mkdir(dirname(target), { recursive: true })
    scratch = await mkdtemp(join(dirname(target), `.${basename(target)}-`))
    const fresh = join(scratch, 'new')
    for (const [name, content] of contents) await writeDurably(join(fresh, name), content)
    await rename(target, join(scratch, 'old')).catch((error: { code?: string }) => {
      if (error.code !== 'ENOENT') throw error
    })
    await rename(fresh, target)
    return null
  } catch (error) {
    return refusal(error, folder)
  } finally {
    if (scratch) await rm(scratch, { recursive: true, force: true })
  }
}
