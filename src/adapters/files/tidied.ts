import { existsSync, renameSync } from 'node:fs'
import { readdir, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { codeOf, hostName, scratchFamily } from './swap-folder.ts'

const isRunning = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return !(error instanceof Error && 'code' in error && error.code === 'ESRCH')
  }
}

/** Whether a scratch folder was left by a run of this machine that is no more; a run of another machine cannot be told. */
const isLeft = (rest: string): boolean => {
  const [, host, pid] = /^(.*)-(\d+)-[A-Za-z0-9]{6}$/.exec(rest) ?? []
  return host === hostName() && pid !== undefined && !isRunning(Number(pid))
}

/** The last earlier folder in a stopped run's scratch, if it was stopped between its two renames. */
const lastOld = async (scratch: string): Promise<string | null> => {
  const olds = (await readdir(scratch)).filter((name) => name.startsWith('old-'))
  const last = olds.toSorted((a, b) => Number(a.slice(4)) - Number(b.slice(4))).at(-1)
  return last === undefined ? null : join(scratch, last)
}

/** Other runs may tidy the same at the same moment: what one of them has put back or taken away is done. */
const unlessDone = (error: unknown): void => {
  if (!['ENOENT', 'ENOTEMPTY', 'EEXIST'].includes(String(codeOf(error)))) throw error
}

const tidyUp = async (scratch: string, target: string): Promise<void> => {
  const old = await lastOld(scratch)
  if (old !== null && !existsSync(target)) renameSync(old, target)
  await rm(scratch, { recursive: true, force: true })
}

/** Puts back the earlier folder of a run that was stopped between its two renames, and takes away what stopped runs left. */
export const tidied = async (target: string): Promise<void> => {
  const family = scratchFamily(target)
  const names = await readdir(dirname(target))
  for (const name of names.filter((each) => each.startsWith(family) && isLeft(each.slice(family.length)))) await tidyUp(join(dirname(target), name), target).catch(unlessDone)
}

/**
 * Before a folder, or a file in one, is read: when it is missing because a run was stopped between its two renames, the earlier folder
 * is put back. Whatever else is wrong there shows when it is read.
 */
export const putBack = async (path: string): Promise<void> => {
  for (const missing of [dirname(path), path].filter((each) => !existsSync(each))) await tidied(missing).catch(() => undefined)
}
