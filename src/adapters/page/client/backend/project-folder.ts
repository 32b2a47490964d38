import type { Files } from './evidence-files.ts'
import { shelf } from './browser-shelf.ts'

interface FileHandle {
  readonly getFile: () => Promise<File>
  readonly createWritable: () => Promise<{ readonly write: (data: string | Uint8Array) => Promise<void>; readonly close: () => Promise<void> }>
}

/** A folder the person chose, where the browser has such a thing (File System Access). */
export interface Folder {
  readonly name: string
  readonly getDirectoryHandle: (name: string, options: { readonly create: boolean }) => Promise<Folder>
  readonly getFileHandle: (name: string, options: { readonly create: boolean }) => Promise<FileHandle>
  readonly requestPermission?: (options: { readonly mode: 'readwrite' }) => Promise<'granted' | 'denied' | 'prompt'>
}

const folders = shelf<Folder>('folders')

const picker = (): (() => Promise<Folder>) | null => {
  const ask = (globalThis as { showDirectoryPicker?: (options: object) => Promise<Folder> }).showDirectoryPicker
  return ask ? () => ask.call(globalThis, { id: 'bench', mode: 'readwrite' }) : null
}

/** The folder chosen before, if it may still be written. */
const earlier = async (): Promise<Folder | null> => {
  const known = await folders.get('project').catch(() => undefined)
  return known?.requestPermission && (await known.requestPermission({ mode: 'readwrite' })) === 'granted' ? known : null
}

/**
 * The project folder to write into: the one chosen before, else asked for; null where the browser can only download. To be
 * called from a click, before any long work, or the browser does not let a page ask. Rejects when the person closes the question.
 */
export const projectFolder = async (): Promise<Folder | null> => {
  const choose = picker()
  if (!choose) return null
  const folder = (await earlier()) ?? (await choose())
  await folders.put('project', folder).catch(() => undefined)
  return folder
}

export const writeInto = async (folder: Folder, path: string, content: string | Uint8Array): Promise<void> => {
  const parts = path.split('/')
  let place = folder
  for (const part of parts.slice(0, -1)) place = await place.getDirectoryHandle(part, { create: true })
  const file = await (await place.getFileHandle(parts.at(-1) ?? path, { create: true })).createWritable()
  await file.write(content)
  await file.close()
}

export const readFrom = async (folder: Folder, path: string): Promise<string | null> => {
  try {
    const parts = path.split('/')
    let place = folder
    for (const part of parts.slice(0, -1)) place = await place.getDirectoryHandle(part, { create: false })
    return await (await (await place.getFileHandle(parts.at(-1) ?? path, { create: false })).getFile()).text()
  } catch {
    return null
  }
}

/** Each file whole; the manifest last, so that a stop on the way is found by it. */
export const writeAll = async (folder: Folder, under: string, files: Files): Promise<void> => {
  for (const [name, content] of files) await writeInto(folder, `${under}/${name}`, content)
}
