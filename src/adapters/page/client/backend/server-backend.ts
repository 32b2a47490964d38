import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type Backend, type Project, Refused, type Saved, type SaveOutcome } from './backend.ts'
import { benchKey } from './bench-key.ts'

interface Asked {
  readonly method?: string
  readonly json?: unknown
  readonly bytes?: Blob
  readonly stop?: AbortSignal
}

const ask = (path: string, { method = 'GET', json, bytes, stop }: Asked = {}): Promise<Response> =>
  fetch(path, {
    method,
    headers: { 'x-bench-key': benchKey(), ...(json === undefined ? {} : { 'content-type': 'application/json' }), ...(bytes ? { 'content-type': 'application/octet-stream' } : {}) },
    body: bytes ?? (json === undefined ? null : JSON.stringify(json)),
    signal: stop ?? null,
  })

const refusal = async (answer: Response): Promise<Refused> => {
  const said = (await answer.json().catch(() => ({}))) as { refused?: string }
  return new Refused(answer.status, said.refused ?? `the bench answered ${answer.status}`)
}

/** The answer's document, where 409 and 422 carry one too. */
const document = async <T>(answer: Response): Promise<T> => {
  if (answer.ok || answer.status === 409 || answer.status === 422) {
    const body = (await answer.json()) as T & { refused?: unknown }
    if (typeof body.refused === 'string') throw new Refused(answer.status, body.refused)
    return body
  }
  throw await refusal(answer)
}

const found = async <T>(answer: Response, read: (answer: Response) => Promise<T>): Promise<T | null> => {
  if (answer.ok) return read(answer)
  if (answer.status === 404) return null
  throw await refusal(answer)
}

const test = (id: string, more = ''): string => `/api/tests/${encodeURIComponent(id)}${more}`
const isWrong = (outcome: object): outcome is Unmeasurable => 'kind' in outcome && outcome.kind === 'unmeasurable'

/** The bench server that served this page. */
export const serverBackend: Backend = {
  kind: 'server',
  project: async () => document<Project>(await ask('/api/project')),
  create: async (name) => document<Saved>(await ask('/api/tests', { method: 'POST', json: { name } })),
  load: async (id) => document<Saved>(await ask(test(id))),
  save: async (id, base, work) => document<SaveOutcome>(await ask(test(id), { method: 'PUT', json: { base, work } })),
  putPhoto: async (id, photo) => document(await ask(test(id, '/photo'), { method: 'PUT', bytes: photo })),
  photo: async (id) => found(await ask(test(id, '/photo')), (answer) => answer.blob()),
  detect: async (id, _photo, hints, stop) => document(await ask(test(id, '/detect'), { method: 'POST', json: hints, stop })),
  saveEvidence: async (id, _work, stop) => {
    const said = await document<{ folder: string } | Unmeasurable>(await ask(test(id, '/evidence'), { method: 'POST', json: {}, stop }))
    return isWrong(said) ? said : { where: said.folder }
  },
  evidence: async (id) => found(await ask(`/api/evidence/${encodeURIComponent(id)}`), (answer) => answer.json()),
  report: async (id) => found(await ask(`/api/evidence/${encodeURIComponent(id)}/report`, { method: 'POST', json: {} }), async (answer) => ((await answer.json()) as { address: string }).address),
  putNote: async (id, note) => {
    const said = await document<{ note: string } | Unmeasurable>(await ask(test(id, '/note'), { method: 'POST', json: { note } }))
    return isWrong(said) ? said : { where: said.note }
  },
  sheet: async (order) => {
    const answer = await ask('/api/sheet', { method: 'POST', json: order })
    if (answer.ok) return { pdf: await answer.blob(), notPrinted: decodeURIComponent(answer.headers.get('x-letters-not-printed') ?? '') }
    throw await refusal(answer)
  },
  phoneCode: async () => document(await ask('/api/code', { method: 'POST', json: {} })),
}

/** Gives the one-time code for a key of this device. */
export const joinWithCode = async (code: string): Promise<string | Unmeasurable> => {
  const answer = await fetch('/api/join', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code }) })
  const said = (await answer.json().catch(() => ({}))) as { key?: string; refused?: string }
  return said.key ?? unmeasurable(said.refused ?? 'the code was refused', 'the code', 'ask for a new one at the bench')
}
