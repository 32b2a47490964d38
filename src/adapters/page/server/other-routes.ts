import type { FastifyInstance } from 'fastify'
import * as z from 'zod'
import { wideFont } from '#adapters/files/wide-font'
import { printedSheet } from '#core/prepare/sheet/draw-sheet'
import { refuse } from './guard.ts'
import type { Keys } from './keys.ts'
import type { ServerOptions } from './server-options.ts'

const order = z.strictObject({
  rig: z.enum(['pointer', 'mirror']),
  paper: z.enum(['a4', 'letter']),
  lengthMm: z.number().positive(),
  motor: z.string().max(80),
  stepsPerRev: z.int().positive().nullable(),
  microsteps: z.int().positive().nullable(),
})

/** The printed sheet, and letting a phone in. */
export const otherRoutes = (app: FastifyInstance, { log, lan, port }: ServerOptions, keys: Keys): void => {
  app.post<{ Body: unknown }>('/api/sheet', async (request, reply) => {
    const wanted = order.safeParse(request.body)
    if (!wanted.success) return refuse(reply, 400, 'this sheet cannot be drawn')
    const sheet = await printedSheet(wanted.data, await wideFont()).catch((error: unknown) => (error instanceof RangeError ? error.message : null))
    if (sheet === null || typeof sheet === 'string') return refuse(reply, 422, sheet ?? 'the sheet could not be drawn')
    return reply.type('application/pdf').header('x-letters-not-printed', encodeURIComponent(sheet.notPrinted)).send(Buffer.from(sheet.pdf))
  })
  app.post('/api/code', async (_request, reply) => {
    if (lan.length === 0) return refuse(reply, 409, 'start the bench with --lan to let a phone in')
    log('a one-time code was made')
    return { ...keys.newCode(), addresses: lan.map((host) => `http://${host}:${port}/`) }
  })
  app.post<{ Body: { code?: unknown } }>('/api/join', { bodyLimit: 1024 }, async (request, reply) => {
    const key = lan.length > 0 ? keys.join(String(request.body?.code ?? '')) : null
    if (key === null) {
      log(`refused a join from ${request.ip}: wrong or old code`)
      return refuse(reply, 401, 'that code is wrong, used or older than five minutes')
    }
    log(`a device joined from ${request.ip}`)
    return { key }
  })
}
