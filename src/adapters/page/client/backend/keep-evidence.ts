import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { measureWork } from '#core/review/measure-work'
import { traceText } from '#core/review/trace-of-work'
import type { Work } from '#core/review/work'

interface Kept {
  readonly id: string
  readonly work: Work
  readonly photo: Blob | null
}

/** A folder the person chose, where the browser has such a thing. */
interface Folder {
  readonly name: string
  readonly getDirectoryHandle: (name: string, options: { readonly create: boolean }) => Promise<Folder>
  readonly getFileHandle: (name: string, options: { readonly create: boolean }) => Promise<{ readonly createWritable: () => Promise<{ readonly write: (data: Blob | string) => Promise<void>; readonly close: () => Promise<void> }> }>
}

const picker = (): (() => Promise<Folder>) | null => {
  const ask = (globalThis as { showDirectoryPicker?: (options: object) => Promise<Folder> }).showDirectoryPicker
  return ask ? () => ask.call(globalThis, { mode: 'readwrite' }) : null
}

const download = (name: string, content: Blob | string): void => {
  const url = URL.createObjectURL(new Blob([content]))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}

const filesOf = ({ work, photo }: Kept): ReadonlyMap<string, Blob | string> | Unmeasurable => {
  const result = measureWork(work)
  if (isUnmeasurable(result)) return result
  return new Map<string, Blob | string>([
    ['result.json', `${JSON.stringify(result, null, 2)}\n`],
    ['work.json', `${JSON.stringify(work)}\n`],
    ...(work.source === 'typed' ? ([['trace.csv', `${traceText(work)}\n`]] as const) : []),
    ...(photo && work.photo ? ([[work.photo.name, photo]] as const) : []),
  ])
}

/** Evidence into a folder the person chooses; where the browser has no such thing, as downloads. */
export const keepEvidence = async (kept: Kept): Promise<{ readonly where: string } | Unmeasurable> => {
  const files = filesOf(kept)
  if (isUnmeasurable(files)) return files
  const choose = picker()
  if (!choose) {
    for (const [name, content] of files) download(`${kept.id}-${name}`, content)
    return { where: `${files.size} files in your downloads, ${kept.id}-result.json among them` }
  }
  const project = await choose()
  const folder = await (await project.getDirectoryHandle('evidence', { create: true })).getDirectoryHandle(kept.id, { create: true })
  for (const [name, content] of files) {
    const file = await (await folder.getFileHandle(name, { create: true })).createWritable()
    await file.write(content)
    await file.close()
  }
  return { where: `${project.name}/evidence/${kept.id}` }
}
