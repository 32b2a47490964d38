import fastifyStatic from '@fastify/static'
import fastify, { type FastifyInstance } from 'fastify'
import { evidenceRoutes } from './evidence-routes.ts'
import { guard } from './guard.ts'
import { type Keys, keysFrom } from './keys.ts'
import { otherRoutes } from './other-routes.ts'
import type { ServerOptions } from './server-options.ts'
import { testRoutes } from './test-routes.ts'

const hostsOf = ({ port, lan }: ServerOptions): ReadonlySet<string> => new Set(['127.0.0.1', 'localhost', '[::1]', ...lan].map((host) => `${host}:${port}`))

/** The page's server, not yet listening. Every request passes the guard; bodies beyond 64 kB are refused unless a route says more. */
export const benchServer = async (options: ServerOptions): Promise<{ readonly app: FastifyInstance; readonly keys: Keys }> => {
  const app = fastify({ logger: false, bodyLimit: 64 * 1024, routerOptions: { maxParamLength: 100 }, requestTimeout: 120_000, forceCloseConnections: true })
  const keys = keysFrom(options.key)
  guard(app, { hosts: hostsOf(options), keys, log: options.log })
  app.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) => done(null, body))
  await app.register(fastifyStatic, { root: options.pageRoot, index: ['index.html'], cacheControl: true, maxAge: 0, etag: true, dotfiles: 'ignore', preCompressed: true })
  app.get('/plotly.min.js', (_request, reply) => reply.sendFile('plotly.min.js', options.assetRoot))
  testRoutes(app, options)
  evidenceRoutes(app, options)
  otherRoutes(app, options, keys)
  return { app, keys }
}
