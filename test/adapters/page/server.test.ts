import { existsSync, mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { beforeAll, describe, expect, it } from 'vitest'
import { benchServer } from '#adapters/page/server/bench-server'
import type { Keys } from '#adapters/page/server/keys'
import { emptyWork } from '#core/review/work'

const key = 'k'.repeat(32)
const host = '127.0.0.1:4720'
const project = mkdtempSync(join(tmpdir(), 'bench-server-'))
const outside = mkdtempSync(join(tmpdir(), 'bench-outside-'))
const log: string[] = []
let app: FastifyInstance
let lanApp: FastifyInstance
let lanKeys: Keys
let id = ''
let rev = ''

const serverOn = async (lan: readonly string[]) => {
  const pageRoot = mkdtempSync(join(tmpdir(), 'bench-page-'))
  writeFileSync(join(pageRoot, 'index.html'), '<!doctype html><title>bench</title>')
  return benchServer({
    project, pageRoot, assetRoot: pageRoot, key, port: 4720, lan, log: (line) => log.push(line),
    actions: { detect: async () => ({ kind: 'unmeasurable', what: 'no marks', where: 'photo', remedy: 'try again' }), writeEvidence: async () => null, putNote: null },
  })
}

beforeAll(async () => {
  const [plain, lan] = [await serverOn([]), await serverOn(['192.168.7.5'])]
  app = plain.app
  lanApp = lan.app
  lanKeys = lan.keys
  const made = await app.inject({ method: 'POST', url: '/api/tests', headers: { host, 'x-bench-key': key }, payload: { name: 'Skip motor' } })
  ;({ id, rev } = made.json() as { id: string; rev: string })
})

interface Asked {
  readonly method?: 'GET' | 'POST' | 'PUT'
  readonly url?: string
  readonly headers?: Readonly<Record<string, string>>
  readonly payload?: string | Buffer | object
}

/** An answer with the lines it left on the log. */
const ask = async ({ method = 'GET', url = '/api/project', headers = {}, payload }: Asked, on = app) => {
  const before = log.length
  const answer = await on.inject({ method, url, headers: { host, 'x-bench-key': key, ...headers }, ...(payload === undefined ? {} : { payload }) })
  return { status: answer.statusCode, said: log.slice(before), headers: answer.headers, body: answer.body }
}

describe('who may use the server', () => {
  it('serves the project to its own page', async () => expect((await ask({})).status).toBe(200))

  for (const [what, headers, status] of [
    ['another host name (DNS rebinding)', { host: 'evil.example:4720' }, 421],
    ['another port in the host', { host: '127.0.0.1:80' }, 421],
    ['an origin elsewhere', { origin: 'http://evil.example' }, 403],
    ['an origin of another port of this machine', { origin: 'http://127.0.0.1:9999' }, 403],
    ['no origin to speak of', { origin: 'null' }, 403],
    ['a request the browser calls cross-site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['a wrong key', { 'x-bench-key': 'x'.repeat(32) }, 401],
    ['no key', { 'x-bench-key': '' }, 401],
  ] as const)
    it(`refuses ${what}, and logs it`, async () => {
      const { status: got, said } = await ask({ headers })
      expect(got).toBe(status)
      expect(said).toHaveLength(1)
      expect(said[0]).toMatch(/^refused GET \/api\/project/)
    })

  it('writes nothing without a key', async () => {
    const { status } = await ask({ method: 'POST', url: '/api/tests', headers: { 'x-bench-key': '' }, payload: { name: 'intruder' } })
    expect(status).toBe(401)
    expect(existsSync(join(project, 'tests', 'intruder'))).toBe(false)
  })

  it('cannot be made to forge a line of the log', async () => {
    const { said } = await ask({ url: '/api/x%0arefused%20nothing', headers: { host: 'a\u00e4b' } })
    expect(said).toHaveLength(1)
    expect(said.join('')).not.toMatch(/\n/)
  })

  // Directives: W3C Content Security Policy Level 3.
  it('forbids inline scripts, foreign sources and frames on every answer', async () => {
    for (const url of ['/', '/api/project', '/nothing']) {
      const policy = String((await ask({ url })).headers['content-security-policy'])
      expect(policy).toMatch(/default-src 'none'/)
      expect(policy).toMatch(/script-src 'self';/)
      expect(policy).toMatch(/frame-ancestors 'none'/)
      expect(policy).not.toMatch(/unsafe|https?:/)
    }
  })
})

describe('nothing outside the project folder', () => {
  for (const bad of ['..', '%2e%2e', '..%2f..%2fetc', '%2e%2e%2f%2e%2e', '..%5c..', 'a%00b', '.bench', 'con', 'a'.repeat(200), '%2fetc%2fpasswd'])
    it(`gives nothing for the name ${bad.slice(0, 30)}`, async () => {
      for (const url of [`/api/tests/${bad}`, `/api/tests/${bad}/photo`, `/api/evidence/${bad}`]) {
        const { status, body } = await ask({ url })
        expect([400, 401, 404, 414]).toContain(status)
        expect(body).not.toMatch(/root:|kkkk/)
      }
    })

  it('does not follow a link that leads outside', async () => {
    writeFileSync(join(outside, 'work.json'), JSON.stringify(emptyWork('outside')))
    symlinkSync(outside, join(project, 'tests', 'link'))
    expect((await ask({ url: '/api/tests/link' })).status).toBe(404)
    const { status } = await ask({ method: 'PUT', url: '/api/tests/link', payload: { base: 'x', work: emptyWork('changed') } })
    expect(status).toBe(404)
    expect(readFileSync(join(outside, 'work.json'), 'utf8')).toMatch(/outside/)
  })

  it('gives no file of the project as a page', async () => {
    mkdirSync(join(project, '.bench'), { recursive: true })
    writeFileSync(join(project, '.bench', 'key'), key)
    for (const url of ['/.bench/key', '/../.bench/key', '/tests/skip-motor/work.json', '/%2e%2e/%2e%2e/etc/passwd']) expect((await ask({ url })).status).toBeGreaterThanOrEqual(400)
  })
})

describe('what may be sent', () => {
  const put = (work: unknown, base = rev) => ask({ method: 'PUT', url: `/api/tests/${id}`, payload: { base, work } })

  it('saves a test, and tells when another saving came between', async () => {
    const first = await put({ ...emptyWork('Skip motor'), rows: [['1.5']] })
    expect(first.status).toBe(200)
    const late = await put({ ...emptyWork('Skip motor'), rows: [['9']] })
    expect(late.status).toBe(409)
    expect((JSON.parse(late.body) as { now: { work: { rows: string[][] } } }).now.work.rows).toEqual([['1.5']])
    rev = (JSON.parse(first.body) as { rev: string }).rev
  })

  for (const [what, work] of [
    ['nothing', undefined],
    ['another schema', { ...emptyWork('x'), schema: 'other@1' }],
    ['a key too many', { ...emptyWork('x'), extra: 1 }],
    ['an edit of no kind', { ...emptyWork('x'), edits: [{ kind: 'run', at: '' }] }],
    ['an endless number', { ...emptyWork('x'), applied: 1e300 }],
    ['hints that are none', { ...emptyWork('x'), hints: { paper: 'a4' } }],
    ['a load that is no text', { ...emptyWork('x'), machine: { trains: [], resolution: '', load: { mass: 3 } } }],
    ['rows without end', { ...emptyWork('x'), rows: Array.from({ length: 20_001 }, () => ['1']) }],
    ['a prototype for a set-up', JSON.parse('{"__proto__":{"polluted":1},"schema":"stepwitness/work@1"}')],
  ] as const)
    it(`refuses ${what} for a test`, async () => {
      expect((await put(work)).status).toBe(400)
      expect(({} as { polluted?: number }).polluted).toBeUndefined()
    })

  it('refuses JSON that is none', async () => {
    const { status, said } = await ask({ method: 'POST', url: '/api/tests', headers: { 'content-type': 'application/json' }, payload: '{"name":' })
    expect(status).toBe(400)
    expect(said[0]).toMatch(/^refused POST/)
  })

  it('refuses other kinds of body', async () => {
    const { status, said } = await ask({ method: 'POST', url: '/api/tests', headers: { 'content-type': 'application/x-www-form-urlencoded' }, payload: 'name=x' })
    expect(status).toBe(415)
    expect(said).toHaveLength(1)
  })

  it('refuses a body larger than its route allows, and logs it', async () => {
    const { status, said } = await ask({ method: 'POST', url: '/api/tests', payload: { name: 'x'.repeat(70_000) } })
    expect(status).toBe(413)
    expect(said[0]).toMatch(/^refused POST/)
    const photo = await ask({ method: 'PUT', url: `/api/tests/${id}/photo`, headers: { 'content-type': 'application/octet-stream' }, payload: Buffer.alloc(61 * 1024 * 1024) })
    expect(photo.status).toBe(413)
  })

  for (const [what, bytes] of [
    ['text', Buffer.from('hello')],
    ['nothing', Buffer.alloc(0)],
    ['the first bytes of a JPEG', readFileSync('samples/flap-1-plain.jpg').subarray(0, 2000)],
    ['a PNG that says it is 60,000 pixels wide', Buffer.concat([Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'), Buffer.from('0000ea600000ea600806000000', 'hex'), Buffer.alloc(40)])],
    ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="900" height="900"><script>1</script></svg>')],
  ] as const)
    it(`refuses ${what} for a photo, and logs it`, async () => {
      const { status, said } = await ask({ method: 'PUT', url: `/api/tests/${id}/photo`, headers: { 'content-type': 'application/octet-stream' }, payload: bytes })
      expect(status).toBe(422)
      expect(said[0]).toMatch(/^refused a photo/)
      expect(existsSync(join(project, 'tests', id, 'photo.jpg'))).toBe(false)
    })

  it('draws a name in any letters its font has, and says which it has not', async () => {
    const sheetOf = async (motor: string) => (await ask({ method: 'POST', url: '/api/sheet', payload: { rig: 'pointer', paper: 'a4', lengthMm: 80, motor, stepsPerRev: 48, microsteps: 4 } })).headers['x-letters-not-printed']
    expect(await sheetOf('Ρίνα Źrebię')).toBe('')
    expect(decodeURIComponent(String(await sheetOf('漢字 rail')))).toBe('漢字')
  })

  it('refuses a sheet beyond what can be drawn', async () => {
    const order = { rig: 'pointer', paper: 'a4', lengthMm: 1e9, motor: 'x', stepsPerRev: 48, microsteps: 4 }
    expect((await ask({ method: 'POST', url: '/api/sheet', payload: order })).status).toBe(422)
  })
})

describe('letting a phone in', () => {
  const lanHost = { host: '192.168.7.5:4720' }
  const join1 = (code: string) => ask({ method: 'POST', url: '/api/join', headers: { ...lanHost, 'x-bench-key': '' }, payload: { code } }, lanApp)

  it('is closed unless asked for', async () => {
    expect((await ask({ method: 'POST', url: '/api/code', payload: {} })).status).toBe(409)
    expect((await ask({ headers: lanHost })).status).toBe(421)
    expect((await ask({ method: 'POST', url: '/api/join', headers: { 'x-bench-key': '' }, payload: { code: '00000000' } })).status).toBe(401)
  })

  it('takes a code once, and gives a key of its own', async () => {
    const { code } = lanKeys.newCode()
    const joined = await join1(`${code.slice(0, 4)} ${code.slice(4)}`)
    expect(joined.status).toBe(200)
    const own = (JSON.parse(joined.body) as { key: string }).key
    expect(own).not.toBe(key)
    expect((await ask({ headers: { ...lanHost, 'x-bench-key': own } }, lanApp)).status).toBe(200)
    expect((await join1(code)).status).toBe(401)
  })

  it('gives up after five wrong codes', async () => {
    const { code } = lanKeys.newCode()
    const wrong = code === '11111111' ? '22222222' : '11111111'
    for (let i = 0; i < 5; i++) expect((await join1(wrong)).status).toBe(401)
    expect((await join1(code)).status).toBe(401)
  })
})
