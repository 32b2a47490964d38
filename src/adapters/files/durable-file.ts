import { type FileHandle, link, mkdir, open, readFile, rm } from 'node:fs/promises'
import { dirname } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { systemReason } from './system-reason.ts'

/** A text file that only grows; what append resolved for is on the disk. */
export interface DurableFile {
  readonly append: (text: string) => Promise<void>
  readonly close: () => Promise<void>
}

const growing = (handle: FileHandle): DurableFile => ({
  append: async (text) => {
    await handle.appendFile(text, 'utf8')
    await handle.sync()
  },
  close: () => handle.close(),
})

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason'

const syncFolder = async (path: string): Promise<void> => {
  const folder = await open(dirname(path), 'r')
  await folder.sync().catch(() => undefined)
  await folder.close()
}

/** A whole file or none under a name nobody had: written beside it, then linked there. Where links are not possible, written in place. */
const placeWhole = async (path: string, text: string): Promise<void> => {
  const beside = `${path}.${process.pid}.new`
  const handle = await open(beside, 'wx')
  try {
    await handle.writeFile(text, 'utf8')
    await handle.sync()
    await link(beside, path).catch(async (error: unknown) => {
      if (codeOf(error) === 'EEXIST') throw error
      const plain = await open(path, 'wx')
      await plain.writeFile(text, 'utf8')
      await plain.sync()
      await plain.close()
    })
    await syncFolder(path)
  } finally {
    await handle.close()
    await rm(beside, { force: true })
  }
}

/**
 * Begins a new file with `head` on the disk; refuses when the path is taken or cannot be written.
 * @param folder `made` makes a folder that is not there; else that is taken for a slip of the pen
 */
export const beginDurable = async (path: string, head: string, folder: 'made' | 'there' = 'there'): Promise<DurableFile | Unmeasurable> => {
  try {
    if (folder === 'made') await mkdir(dirname(path), { recursive: true })
    await placeWhole(path, head)
    return growing(await open(path, 'a'))
  } catch (error) {
    return codeOf(error) === 'EEXIST'
      ? unmeasurable('there is a file of that name already', path, 'go on with it by --resume, or choose another name')
      : unmeasurable(`it cannot be written (${systemReason(error)})`, path, 'choose a folder that exists and can be written')
  }
}

/** Text of a file to go on with. */
export const readText = async (path: string): Promise<string | Unmeasurable> => {
  try {
    return await readFile(path, 'utf8')
  } catch (error) {
    return unmeasurable(
      codeOf(error) === 'ENOENT' ? 'there is no such file' : `it cannot be read (${systemReason(error)})`,
      path,
      'give the trace file of the run that was stopped',
    )
  }
}

/** Goes on with a file, cutting off what stands behind `keepBytes` (a line that a stop left half written). */
export const resumeDurable = async (path: string, keepBytes: number): Promise<DurableFile | Unmeasurable> => {
  try {
    const handle = await open(path, 'r+')
    await handle.truncate(keepBytes)
    await handle.close()
    return growing(await open(path, 'a'))
  } catch (error) {
    return unmeasurable(`it cannot be written (${systemReason(error)})`, path, 'check that it may be written')
  }
}
