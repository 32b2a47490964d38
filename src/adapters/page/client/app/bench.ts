import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { applyEdit, reviewedOf } from '#core/review/apply-edit'
import type { RestMarks } from '#core/review/rest-marks'
import type { Reviewed } from '#core/review/reviewed'
import type { Edit, Work } from '#core/review/work'
import { Refused } from '#adapters/page/client/backend/backend'
import type { Backend, Project, Saved } from '#adapters/page/client/backend/backend'
import { type Engine, startEngine } from '#adapters/page/client/engine/engine'
import { dropDraft, draftOf, keepDraft } from './draft.ts'
import { pasted } from './pasted.ts'
import { createStore } from './store.ts'

export type SaveState = 'saved' | 'saving' | 'waiting' | 'conflict'

export interface BenchState {
  readonly project: Project | null
  readonly locked: boolean
  readonly id: string | null
  readonly rev: string
  readonly work: Work | null
  readonly state: Reviewed | null
  readonly saving: SaveState
  readonly conflict: Saved | null
  readonly outcome: Result | Unmeasurable | null
  readonly rests: RestMarks | null
  readonly measuring: boolean
  /** The outcome holds the motor's cause, or says why none can be given. */
  readonly explained: boolean
  readonly notice: string
}

export const bench = createStore<BenchState>({
  project: null, locked: false, id: null, rev: '', work: null, state: null, saving: 'saved', conflict: null, outcome: null, rests: null, measuring: false, explained: false, notice: '',
})

let backend: Backend
let engine: Engine
let timer: ReturnType<typeof setTimeout> | undefined
let flight = false

export const theBackend = (): Backend => backend

/** The result when there is one. */
export const resultOf = ({ outcome }: BenchState): Result | null => (outcome && !isUnmeasurable(outcome) ? outcome : null)

/** Said to everyone, screen readers too. */
export const say = (notice: string): void => bench.set({ notice })

const measureNow = (work: Work): void => {
  bench.set({ measuring: true, explained: false })
  engine.measure(work)
}

const show = ({ id, rev, work }: Saved): void => {
  bench.set({ id, rev, work, state: reviewedOf(work), saving: 'saved', conflict: null, outcome: null, rests: null })
  localStorage.setItem('bench:last', id)
  measureNow(work)
}

const soon = (ms: number): void => {
  clearTimeout(timer)
  timer = setTimeout(() => void save(), ms)
}

/** Saves the newest state; tries again while the bench cannot be reached. */
const save = async (): Promise<void> => {
  const { id, rev, work, conflict } = bench.get()
  if (flight || !id || !work || conflict) return
  flight = true
  bench.set({ saving: 'saving' })
  try {
    const outcome = await backend.save(id, rev, work)
    if (bench.get().id !== id) return
    if (outcome.kind === 'conflict' && JSON.stringify(outcome.now.work) !== JSON.stringify(work)) return bench.set({ saving: 'conflict', conflict: outcome.now })
    const newer = bench.get().work !== work
    bench.set({ rev: outcome.kind === 'saved' ? outcome.rev : outcome.now.rev, saving: newer ? 'saving' : 'saved' })
    if (newer) soon(50)
    else dropDraft(id)
  } catch (error) {
    bench.set({ saving: 'waiting', ...(error instanceof Refused ? { notice: `Not saved: ${error.message}.` } : {}), ...(error instanceof Refused && error.status === 401 ? { locked: true } : {}) })
    soon(1500)
  } finally {
    flight = false
    // A test opened meanwhile could not be saved in the meantime.
    if (bench.get().id !== id && bench.get().saving === 'saving') soon(0)
  }
}

/** Every change of a test goes through here: shown at once, kept in the browser, measured and saved. */
export const change = (next: Work, state: Reviewed | null = reviewedOf(next)): void => {
  const { id, rev } = bench.get()
  if (!id) return
  bench.set({ work: next, state, saving: 'saving' })
  keepDraft(id, rev, next)
  measureNow(next)
  soon(150)
}

export const patch = (part: Partial<Work>): void => {
  const { work, state } = bench.get()
  if (work) change({ ...work, ...part }, 'found' in part || 'edits' in part || 'applied' in part ? undefined : state)
}

type Unstamped = Edit extends infer E ? (E extends Edit ? Omit<E, 'at'> : never) : never

/** One more edit; what had been undone is gone. */
export const edit = (what: Unstamped): void => {
  const { work, state } = bench.get()
  if (!work || !state) return
  const stamped = { ...what, at: new Date().toISOString() } as Edit
  change({ ...work, edits: [...work.edits.slice(0, work.applied), stamped], applied: work.applied + 1 }, applyEdit(state, stamped))
}

export const undo = (): void => {
  const { work } = bench.get()
  if (work && work.applied > 0) patch({ applied: work.applied - 1 })
}

export const redo = (): void => {
  const { work, state } = bench.get()
  const again = work?.edits[work.applied]
  if (work && state && again) change({ ...work, applied: work.applied + 1 }, applyEdit(state, again))
}

/** Opens a test; what this browser had not yet saved is taken up again. */
export const open = async (id: string): Promise<void> => {
  const saved = await backend.load(id)
  show(saved)
  const draft = draftOf(id)
  if (!draft || JSON.stringify(draft.work) === JSON.stringify(saved.work)) return dropDraft(id)
  bench.set({ work: draft.work, state: reviewedOf(draft.work), rev: draft.base })
  measureNow(draft.work)
  soon(0)
}

/** A new test; the motor in it bears the name until it is given another. */
export const create = async (name: string, begun: Partial<Work> = {}): Promise<void> => {
  const made = await backend.create(name)
  show(made)
  patch({ ...begun, setUp: { motor: name, ...begun.setUp } })
  bench.set({ project: await backend.project() })
}

/** The example that comes with the page as a test of its own. @returns why not, or nothing */
export const createExample = async (): Promise<string> => {
  const answer = await fetch('./example.csv').catch(() => null)
  if (!answer?.ok) return 'The example is missing beside this page.'
  const { rows, setUp } = pasted([], [0, 0], await answer.text())
  await create('Example, simulated', { rows, setUp })
  return ''
}

export const refreshProject = async (): Promise<void> => {
  try {
    bench.set({ project: await backend.project(), locked: false })
  } catch (error) {
    if (error instanceof Refused) bench.set({ locked: true })
    else throw error
  }
}

/** Ends a conflict with one of the two states. */
export const settle = (keep: 'mine' | 'theirs'): void => {
  const { conflict, work } = bench.get()
  if (!conflict) return
  if (keep === 'theirs') {
    dropDraft(conflict.id)
    show(conflict)
    return
  }
  bench.set({ conflict: null, rev: conflict.rev })
  if (work) change(work, bench.get().state)
}

/** Another window may have saved meanwhile: looks when this one comes to the front with nothing of its own to save. */
const lookForOthers = async (): Promise<void> => {
  const { id, rev, saving } = bench.get()
  if (document.visibilityState !== 'visible' || !id || saving !== 'saved') return
  const now = await backend.load(id).catch(() => null)
  if (!now || now.rev === rev || bench.get().id !== id || bench.get().saving !== 'saved') return
  show(now)
  say('This test was changed in another window; its newest state is shown.')
}

export const start = async (chosen: Backend): Promise<void> => {
  backend = chosen
  engine = startEngine(({ outcome, rests, cause }) => bench.set({ outcome, rests, measuring: false, explained: cause }))
  document.addEventListener('visibilitychange', () => void lookForOthers())
  addEventListener('focus', () => void lookForOthers())
  await refreshProject()
  const { project } = bench.get()
  if (!project) return
  const last = localStorage.getItem('bench:last')
  const id = project.tests.find((test) => test.id === last)?.id ?? project.tests[0]?.id
  if (id) await open(id)
}
