import { createHash } from 'node:crypto'
import { mkdir, readdir, readFile, stat } from 'node:fs/promises'
import { extname, join } from 'node:path'
import writeFileAtomic from 'write-file-atomic'
import { traceText } from '#core/review/trace-of-work'
import { emptyWork, type Work } from '#core/review/work'
import { confined } from './confined.ts'
import { readWork } from './work-schema.ts'

/** A saved test with what tells this saving of it from any other. */
export interface Saved {
  readonly id: string
  readonly rev: string
  readonly work: Work
}

export type SaveOutcome = { readonly kind: 'saved'; readonly rev: string } | { readonly kind: 'conflict'; readonly now: Saved } | { readonly kind: 'absent' }

const revOf = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 16)

const pathTo = (project: string, id: string, ...more: readonly string[]): Promise<string | null> => confined(project, 'tests', id, ...more)

/** Plain lower-case words of a name, joined by dashes. */
const slugOf = (name: string): string => name.normalize('NFKD').toLowerCase().replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '').slice(0, 50) || 'test'

export const loadTest = async (project: string, id: string): Promise<Saved | null> => {
  const path = await pathTo(project, id, 'work.json')
  const text = path && (await readFile(path, 'utf8').catch(() => null))
  if (!text) return null
  const work = readWork(JSON.parse(text))
  return work && { id, rev: revOf(text), work }
}

const write = async (project: string, id: string, work: Work): Promise<string> => {
  const text = `${JSON.stringify(work)}\n`
  const folder = join(project, 'tests', id)
  await writeFileAtomic(join(folder, 'work.json'), text)
  if (work.source === 'typed') await writeFileAtomic(join(folder, 'trace.csv'), `${traceText(work)}\n`)
  return revOf(text)
}

/** Savings of one project follow one another, so that a check and its writing belong together. */
const inTurn = (): (<T>(job: () => Promise<T>) => Promise<T>) => {
  let last: Promise<unknown> = Promise.resolve()
  return (job) => {
    const next = last.then(job, job)
    last = next.catch(() => undefined)
    return next
  }
}
const turn = inTurn()

/** Saves over the state it began from; a test saved by someone else meanwhile is a conflict and stays as it is. */
export const saveTest = (project: string, id: string, base: string, work: Work): Promise<SaveOutcome> =>
  turn(async () => {
    const now = await loadTest(project, id)
    if (!now) return { kind: 'absent' }
    return now.rev === base ? { kind: 'saved', rev: await write(project, id, work) } : { kind: 'conflict', now }
  })

export const createTest = (project: string, name: string): Promise<Saved> =>
  turn(async () => {
    const taken = new Set(await readdir(join(project, 'tests')).catch(() => []))
    let id = slugOf(name)
    for (let n = 2; taken.has(id); n++) id = `${slugOf(name)}-${n}`
    await mkdir(join(project, 'tests', id), { recursive: true })
    const work = emptyWork(name)
    return { id, rev: await write(project, id, work), work }
  })

const named = async (folder: string, keep: (name: string) => boolean): Promise<readonly string[]> =>
  (await readdir(folder, { withFileTypes: true }).catch(() => [])).flatMap((entry) => (!entry.name.startsWith('.') && keep(entry.name) ? [entry.name] : [])).sort()

export const listTests = async (project: string): Promise<readonly { readonly id: string; readonly name: string; readonly changed: number }[]> => {
  const ids = await named(join(project, 'tests'), () => true)
  const all = await Promise.all(ids.map(async (id) => {
    const saved = await loadTest(project, id).catch(() => null)
    return saved && { id, name: saved.work.name, changed: (await stat(join(project, 'tests', id, 'work.json'))).mtimeMs }
  }))
  return all.filter((test) => test !== null).toSorted((a, b) => b.changed - a.changed)
}

export const listNotes = (project: string): Promise<readonly string[]> => named(join(project, 'notes'), (name) => extname(name) === '.md')

export const listEvidence = (project: string): Promise<readonly string[]> => named(join(project, 'evidence'), () => true)

const photoNames = ['photo.jpg', 'photo.png', 'photo.webp', 'photo.avif', 'photo.tif'] as const
const extensions: Readonly<Record<string, (typeof photoNames)[number]>> = { jpeg: 'photo.jpg', png: 'photo.png', webp: 'photo.webp', heif: 'photo.avif', tiff: 'photo.tif' }

/** The photo of a test on disk; null when there is none. */
export const photoPath = async (project: string, id: string): Promise<string | null> => {
  for (const name of photoNames) {
    const path = await pathTo(project, id, name)
    if (path && (await stat(path).catch(() => null))) return path
  }
  return null
}

/** @param format as the decoder names it */
export const savePhoto = async (project: string, id: string, bytes: Uint8Array, format: string): Promise<string | null> => {
  const { rm } = await import('node:fs/promises')
  const path = await pathTo(project, id, extensions[format] ?? 'photo.jpg')
  if (!path || !(await loadTest(project, id))) return null
  const old = await photoPath(project, id)
  await writeFileAtomic(path, Buffer.from(bytes))
  if (old && old !== path) await rm(old, { force: true })
  return createHash('sha256').update(bytes).digest('hex')
}
