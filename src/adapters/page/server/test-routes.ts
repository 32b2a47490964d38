import { readFile } from 'node:fs/promises'
import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { readPhoto } from '#adapters/photo/read-photo'
import { hintsSchema } from '#core/ingest/hints-schema'
import { isUnmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { refuse } from './guard.ts'
import { createTest, listEvidence, listNotes, listTests, loadTest, photoPath, savePhoto, saveTest } from './project.ts'
import type { ServerOptions } from './server-options.ts'
import { stopWhenLeft } from './stop-when-left.ts'
import { readWork } from './work-schema.ts'

type ById = { Params: { id: string } }

const mostWork = 24 * 1024 * 1024
export const mostPhoto = 60 * 1024 * 1024

const work = (app: FastifyInstance, { project }: ServerOptions): void => {
  app.post<{ Body: unknown }>('/api/tests', async (request, reply) => {
    const name = z.strictObject({ name: z.string().trim().min(1).max(80) }).safeParse(request.body)
    return name.success ? createTest(project, name.data.name) : refuse(reply, 400, 'give the test a name of at most 80 letters')
  })
  app.get<ById>('/api/tests/:id', async (request, reply) => (await loadTest(project, request.params.id)) ?? refuse(reply, 404, 'there is no such test'))
  app.put<ById & { Body: { base?: unknown; work?: unknown } }>('/api/tests/:id', { bodyLimit: mostWork }, async (request, reply) => {
    const given = readWork(request.body?.work)
    if (!given || typeof request.body.base !== 'string') return refuse(reply, 400, 'this is not a test that can be saved')
    const outcome = await saveTest(project, request.params.id, request.body.base, given)
    if (outcome.kind === 'absent') return refuse(reply, 404, 'there is no such test')
    return reply.code(outcome.kind === 'conflict' ? 409 : 200).send(outcome)
  })
}

const photo = (app: FastifyInstance, { project, actions, log }: ServerOptions): void => {
  app.put<ById & { Body: Buffer }>('/api/tests/:id/photo', { bodyLimit: mostPhoto }, async (request, reply) => {
    if (!Buffer.isBuffer(request.body)) return refuse(reply, 415, 'send the photo itself')
    const read = request.body.length === 0 ? unmeasurable('the photo is empty', 'photo', 'choose it again') : await readPhoto(request.body)
    if (isUnmeasurable(read)) {
      log(`refused a photo for ${request.params.id}: ${read.what}`)
      return reply.code(422).send(read)
    }
    const sha256 = await savePhoto(project, request.params.id, request.body, read.format)
    return sha256 === null ? refuse(reply, 404, 'there is no such test') : { sha256 }
  })
  app.get<ById>('/api/tests/:id/photo', async (request, reply) => {
    const path = await photoPath(project, request.params.id)
    return path ? reply.type('application/octet-stream').send(await readFile(path)) : refuse(reply, 404, 'there is no photo yet')
  })
  app.post<ById & { Body: unknown }>('/api/tests/:id/detect', async (request, reply) => {
    const left = stopWhenLeft(reply)
    const hints = hintsSchema.safeParse(request.body ?? {})
    const path = await photoPath(project, request.params.id)
    if (!hints.success || !path) return refuse(reply, path ? 400 : 404, path ? 'these hints cannot be read' : 'there is no photo yet')
    const found = await actions.detect(path, hints.data, left)
    return reply.code(isUnmeasurable(found) ? 422 : 200).send(found)
  })
}

/** The project's tests: list, make, load, save, their photos and the marks in them. */
export const testRoutes = (app: FastifyInstance, options: ServerOptions): void => {
  const { project } = options
  app.get('/api/project', async () => {
    const [tests, notes, evidence] = await Promise.all([listTests(project), listNotes(project), listEvidence(project)])
    return { folder: project, tests, notes, evidence, lan: options.lan.length > 0, canNote: options.actions.putNote !== null }
  })
  work(app, options)
  photo(app, options)
}
