import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { emptyWork, type Work } from '#core/review/work'
import type { Backend, Saved } from './backend.ts'
import { shelf } from './browser-shelf.ts'
import { detectHere } from './detect-here.ts'
import { sha256 } from './evidence-files.ts'
import { keepEvidence } from './keep-evidence.ts'
import { keepNote, noteNames } from './keep-note.ts'

interface Kept {
  readonly rev: string
  readonly work: Work
  readonly changed: number
}

const tests = shelf<Kept>('tests')
const photos = shelf<Blob>('photos')
const results = shelf<Result>('results')

const nextRev = (): string => `${Date.now().toString(36)}-${crypto.getRandomValues(new Uint32Array(1))[0]?.toString(36)}`

const loaded = async (id: string): Promise<Saved> => {
  const kept = await tests.get(id)
  if (!kept) throw new Error('there is no such test')
  return { id, rev: kept.rev, work: kept.work }
}

const put = async (id: string, work: Work): Promise<string> => {
  const rev = nextRev()
  await tests.put(id, { rev, work, changed: Date.now() })
  return rev
}

/** Everything inside this browser: tests and photos in its own store, detection in a worker, evidence as files to keep. */
export const browserBackend: Backend = {
  kind: 'browser',
  project: async () => {
    const all = await tests.all()
    const list = all.map(([id, { work, changed }]) => ({ id, name: work.name, changed })).toSorted((a, b) => b.changed - a.changed)
    return { folder: 'this browser', tests: list, notes: await noteNames(), evidence: (await results.all()).map(([id]) => id), lan: false, canNote: true }
  },
  create: async (name) => {
    const taken = new Set((await tests.all()).map(([id]) => id))
    let id = name.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '') || 'test'
    for (let n = 2; taken.has(id); n++) id = `${id.replace(/-\d+$/, '')}-${n}`
    const work = emptyWork(name)
    return { id, rev: await put(id, work), work }
  },
  load: loaded,
  save: async (id, base, work) => {
    const now = await loaded(id)
    return now.rev === base ? { kind: 'saved', rev: await put(id, work) } : { kind: 'conflict', now }
  },
  putPhoto: async (id, photo) => {
    await photos.put(id, photo)
    return { sha256: await sha256(photo) }
  },
  photo: async (id) => (await photos.get(id)) ?? null,
  detect: (_id, photo, hints, stop) => detectHere(photo, hints, stop),
  saveEvidence: async (id, work, stop) => {
    const kept = await keepEvidence({ id, work, photo: work.source === 'photo' ? ((await photos.get(id)) ?? null) : null }, stop)
    if (isUnmeasurable(kept)) return kept
    await results.put(id, kept.result)
    return { where: kept.where }
  },
  evidence: async (id) => (await results.get(id)) ?? null,
  report: async () => null,
  putNote: async (id, note) => keepNote(id, note, await results.get(id)),
  sheet: async (order) => (await import('./sheet-here.ts')).sheetHere(order),
  phoneCode: async () => {
    throw new Error('there is no server to let a phone in')
  },
}

