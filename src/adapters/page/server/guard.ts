import { timingSafeEqual } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Keys } from './keys.ts'

/**
 * Nothing from elsewhere, no inline script, no inline style, no frame around the page. The one hash is that of nothing at
 * all: the plotting library puts an empty style element into the page and fills it by script (CSSOM), which no text from
 * outside can do.
 */
export const contentPolicy =
  "default-src 'none'; script-src 'self'; style-src 'self' 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; font-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

const headers: Readonly<Record<string, string>> = {
  'content-security-policy': contentPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=()',
}

export interface GuardOptions {
  readonly hosts: ReadonlySet<string>
  readonly keys: Keys
  readonly log: (line: string) => void
}

/** Printable and short, so that a refusal cannot forge lines of the log. */
const tame = (text: unknown): string => String(text ?? '').replaceAll(/[^ -~]/g, '?').slice(0, 120)

const sameText = (a: string, b: string): boolean => a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b))

const mayWithoutKey = (path: string): boolean => !path.startsWith('/api/') || path === '/api/join'

/** What is wrong with a request before anyone looks at what it wants; null when nothing is. */
const complaint = ({ headers: { host, origin, 'sec-fetch-site': site, 'x-bench-key': key }, url }: FastifyRequest, { hosts, keys }: GuardOptions): readonly [number, string] | null => {
  if (!hosts.has(String(host).toLowerCase())) return [421, `host "${tame(host)}"`]
  if (origin !== undefined && !(origin.startsWith('http://') && hosts.has(origin.slice('http://'.length).toLowerCase()))) return [403, `origin "${tame(origin)}"`]
  if (site === 'cross-site' && url.startsWith('/api/')) return [403, 'a request from another site']
  if (mayWithoutKey(url.split('?')[0] ?? '')) return null
  return keys.all().some((known) => sameText(known, String(key ?? ''))) ? null : [401, 'no key or a wrong one']
}

/** Refuses and logs; the answer says no more than it must. */
export const refuse = (reply: FastifyReply, status: number, say: string): FastifyReply => reply.code(status).send({ refused: say })

const words: Readonly<Record<number, string>> = { 401: 'open the page with the link the terminal printed, or join with a code', 403: 'this page may only be used from its own address', 413: 'too large', 421: 'this page may only be used from its own address' }

/** Host, Origin and key on every request; strict headers on every answer; every refusal and failure on the log. */
export const guard = (app: FastifyInstance, options: GuardOptions): void => {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(headers)
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store')
    const wrong = complaint(request, options)
    if (!wrong) return
    options.log(`refused ${tame(request.method)} ${tame(request.url)}: ${wrong[1]}`)
    await refuse(reply, wrong[0], words[wrong[0]] ?? 'refused')
  })
  app.setNotFoundHandler((request, reply) => {
    options.log(`refused ${tame(request.method)} ${tame(request.url)}: there is nothing there`)
    return refuse(reply, 404, 'there is nothing there')
  })
  app.setErrorHandler((error: Error & { statusCode?: number }, request, reply) => {
    const status = error.statusCode ?? 500
    options.log(`${status < 500 ? 'refused' : 'failed'} ${tame(request.method)} ${tame(request.url)}: ${tame(error.message)}`)
    return refuse(reply, status, status < 500 ? (words[status] ?? tame(error.message)) : 'something went wrong; the terminal says what')
  })
}
