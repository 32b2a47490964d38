import { mkdir, readFile, stat } from 'node:fs/promises'
import { join, relative } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { readResult } from '#adapters/files/read-result'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { confined } from './confined.ts'
import { refuse } from './guard.ts'
import { freshKey } from './keys.ts'
import { loadTest } from './project.ts'
import type { ServerOptions } from './server-options.ts'
import { stopWhenLeft } from './stop-when-left.ts'

type ById = { Params: { id: string } }

const saving = (app: FastifyInstance, { project, actions }: ServerOptions): void => {
  app.post<ById>('/api/tests/:id/evidence', async (request, reply) => {
    const left = stopWhenLeft(reply)
    const { id } = request.params
    const folder = await confined(project, 'evidence', id)
    if (!folder || !(await loadTest(project, id))) return refuse(reply, 404, 'there is no such test')
    await mkdir(join(project, 'evidence'), { recursive: true })
    const refused = await actions.writeEvidence(id, left)
    return refused ? reply.code(422).send(refused) : { folder: relative(project, folder) }
  })
}

const notes = (app: FastifyInstance, { project, actions }: ServerOptions): void => {
  app.post<ById & { Body: { note?: unknown } }>('/api/tests/:id/note', async (request, reply) => {
    const name = String(request.body?.note ?? '').replace(/(\.md)?$/i, '.md')
    const [note, evidence] = [await confined(project, 'notes', name), await confined(project, 'evidence', request.params.id)]
    if (!note || !evidence || !actions.putNote) return refuse(reply, 400, 'give the note a plain name, such as heater-flap.md')
    const result = await readResult(evidence)
    if (isUnmeasurable(result)) return reply.code(422).send({ ...result, remedy: 'save the evidence first' })
    await mkdir(join(project, 'notes'), { recursive: true })
    const refused = await actions.putNote(note, result, relative(join(project, 'notes'), evidence))
    return refused ? reply.code(422).send(refused) : { note: relative(project, note), text: await readFile(note, 'utf8') }
  })
}

/**
 * What a report may do in the browser: what it allows itself (its own two scripts, nothing from anywhere), and without an origin, so that
 * one that somebody changed reaches neither the bench nor its key.
 */
const reportPolicy = (html: string): string => `sandbox allow-scripts allow-downloads; frame-ancestors 'none'; ${/http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1] ?? "default-src 'none'"}`

/** A link cannot carry the key: an address that nobody can guess is given out for it instead, good for this one report. */
const reports = (app: FastifyInstance, { project }: ServerOptions): void => {
  const given = new Map<string, string>()
  app.post<ById>('/api/evidence/:id/report', async (request, reply) => {
    const path = await confined(project, 'evidence', request.params.id, 'report.html')
    if (path === null || !(await stat(path).catch(() => null))?.isFile()) return refuse(reply, 404, 'there is no such report')
    const address = `/reports/${freshKey()}`
    given.set(address, request.params.id)
    return { address }
  })
  app.get('/reports/:any', async (request, reply) => {
    const id = given.get(request.url)
    const path = id === undefined ? null : await confined(project, 'evidence', id, 'report.html')
    const html = path === null ? null : await readFile(path, 'utf8').catch(() => null)
    if (html === null) return refuse(reply, 404, 'there is no such report; open it from the bench again')
    return reply.headers({ 'content-security-policy': reportPolicy(html), 'cross-origin-opener-policy': 'unsafe-none', 'cache-control': 'no-store' }).type('text/html; charset=utf-8').send(html)
  })
}

/** Evidence out of a saved test, results of earlier ones, and parts notes. */
export const evidenceRoutes = (app: FastifyInstance, options: ServerOptions): void => {
  app.get<ById>('/api/evidence/:id', async (request, reply) => {
    const folder = await confined(options.project, 'evidence', request.params.id)
    const result = folder && (await readResult(folder))
    return result && !isUnmeasurable(result) ? result : refuse(reply, 404, 'there is no such evidence')
  })
  saving(app, options)
  reports(app, options)
  notes(app, options)
}
