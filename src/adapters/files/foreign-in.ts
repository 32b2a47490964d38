import { readdir, stat } from 'node:fs/promises'
import { basename, join } from 'node:path'

/** Names this tool writes at the top of its folders. */
const ours = /^(?:report\.html|note\.md|result\.json|detection\.json|manifest\.json|marks\.csv|overlay\.png|square-on\.png|figures|input\.[a-z0-9]{1,8})$/
/** Files a system leaves in any folder. */
const left = /^(?:\.DS_Store|Thumbs\.db|desktop\.ini)$/
const documents = ['result.json', 'detection.json']

const standsInTheWay = async (folder: string): Promise<string | null> => {
  const names = (await readdir(folder)).filter((name) => !left.test(name))
  if (names.length === 0) return null
  if (!names.some((name) => documents.includes(name))) return basename(folder)
  const within = names.includes('figures') ? await readdir(join(folder, 'figures')) : []
  return names.find((name) => !ours.test(name)) ?? within.find((name) => !/^[a-z0-9-]+\.(?:svg|png)$/.test(name) && !left.test(name)) ?? null
}

const identityOf = async (path: string): Promise<{ readonly folder: boolean; readonly key: string } | null> => {
  const found = await stat(path).catch(() => null)
  return found && { folder: found.isDirectory(), key: `${found.dev}/${found.ino}` }
}

/**
 * What stands in the way of replacing a folder: the name of a file in it that is not of this tool, its own name when it is
 * a file or holds no document of this tool; null when it may be replaced, is empty or is not there. A folder that another
 * run replaces while it is looked at is looked at again.
 */
export const foreignIn = async (folder: string): Promise<string | null> => {
  for (let turn = 0; ; turn++) {
    const before = await identityOf(folder)
    if (!before) return null
    if (!before.folder) return basename(folder)
    const found = await standsInTheWay(folder).catch((error: Error) => error)
    const settled = (await identityOf(folder))?.key === before.key
    if (settled && !(found instanceof Error)) return found
    if (turn === 100) throw found instanceof Error ? found : new Error('the folder does not hold still')
  }
}
