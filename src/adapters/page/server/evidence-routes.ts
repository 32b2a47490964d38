import { createHash } from 'node:crypto'
import { mkdir, readFile } from 'node:fs/promises'
import { basename, join, relative } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { readResult } from '#adapters/files/read-result'
import { measureWork } from '#core/review/measure-work'
import { reviewedOf } from '#core/review/apply-edit'
import { editedDetection } from '#core/review/edited-detection'
import { traceOfWork, traceText } from '#core/review/trace-of-work'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { confined } from './confined.ts'
import { refuse } from './guard.ts'
import { loadTest, photoPath, type Saved } from './project.ts'
import type { EvidenceOrder, ServerOptions } from './server-options.ts'

type ById = { Params: { id: string } }

const inputOf = async (project: string, { id, work }: Saved): Promise<EvidenceOrder['input'] | null> => {
  const path = work.source === 'photo' ? await photoPath(project, id) : null
  if (work.source === 'photo' && !path) return null
  const bytes = path ? await readFile(path) : Buffer.from(`${traceText(work)}\n`)
  return { kind: work.source, name: path ? (work.photo?.name ?? basename(path)) : 'trace.csv', bytes, sha256: createHash('sha256').update(bytes).digest('hex') }
}

/** Everything an evidence folder holds, measured here from the saved test; figures sent by a page are never believed. */
const orderOf = async (project: string, saved: Saved): Promise<EvidenceOrder | Unmeasurable | null> => {
  const { work } = saved
  const input = await inputOf(project, saved)
  const trace = traceOfWork(work)
  const measured = measureWork(work)
  if (!input || isUnmeasurable(trace) || isUnmeasurable(measured)) return input && (isUnmeasurable(trace) ? trace : (measured as Unmeasurable))
  const state = work.source === 'photo' ? reviewedOf(work) : null
  const detection = state && editedDetection(state, work.edits.slice(0, work.applied))
  return { input, trace, detection, result: { ...measured, input: { kind: input.kind, name: input.name, sha256: input.sha256 } } }
}

const saving = (app: FastifyInstance, { project, actions }: ServerOptions): void => {
  app.post<ById>('/api/tests/:id/evidence', async (request, reply) => {
    const saved = await loadTest(project, request.params.id)
    const folder = await confined(project, 'evidence', request.params.id)
    if (!saved || !folder) return refuse(reply, 404, 'there is no such test')
    const order = await orderOf(project, saved)
    if (!order) return refuse(reply, 404, 'there is no photo yet')
    if (isUnmeasurable(order)) return reply.code(422).send(order)
    await mkdir(join(project, 'evidence'), { recursive: true })
    const refused = await actions.writeEvidence(folder, order)
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

/** Evidence out of a saved test, results of earlier ones, and parts notes. */
export const evidenceRoutes = (app: FastifyInstance, options: ServerOptions): void => {
  app.get<ById>('/api/evidence/:id', async (request, reply) => {
    const folder = await confined(options.project, 'evidence', request.params.id)
    const result = folder && (await readResult(folder))
    return result && !isUnmeasurable(result) ? result : refuse(reply, 404, 'there is no such evidence')
  })
  saving(app, options)
  notes(app, options)
}
