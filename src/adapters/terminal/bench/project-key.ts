import { mkdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import writeFileAtomic from 'write-file-atomic'
import { freshKey } from '#adapters/page/server/keys'

/** The project's key, made once and readable by its owner alone, so that a page outlives a restart of the server. */
export const projectKey = async (project: string): Promise<string> => {
  const path = join(project, '.bench', 'key')
  const known = (await readFile(path, 'utf8').catch(() => '')).trim()
  if (/^[\w-]{32}$/.test(known)) return known
  const key = freshKey()
  await mkdir(join(project, '.bench'), { recursive: true, mode: 0o700 })
  await writeFileAtomic(path, `${key}\n`, { mode: 0o600 })
  return key
}
