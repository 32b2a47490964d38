import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, expect, it } from 'vitest'

const folder = mkdtempSync(join(tmpdir(), 'no-network-'))
const guard = join(folder, 'guard.mjs')

/** Every way out of the machine ends the program with status 97. */
const guardText = `import net from 'node:net'
import dns from 'node:dns'
import dgram from 'node:dgram'
import http from 'node:http'
import https from 'node:https'
import http2 from 'node:http2'
import tls from 'node:tls'
import { syncBuiltinESMExports } from 'node:module'
const out = (what) => () => { process.stderr.write('went out by ' + what + '\\n'); process.exit(97) }
for (const [name, module, ways] of [['net', net, ['connect', 'createConnection']], ['dns', dns, ['lookup', 'resolve', 'resolve4', 'resolve6']], ['dns', dns.promises, ['lookup', 'resolve']], ['dgram', dgram, ['createSocket']], ['http', http, ['request', 'get']], ['https', https, ['request', 'get']], ['http2', http2, ['connect']], ['tls', tls, ['connect']]])
  for (const way of ways) module[way] = out(name + '.' + way)
net.Socket.prototype.connect = out('net.Socket')
globalThis.fetch = out('fetch')
globalThis.WebSocket = class { constructor() { out('WebSocket')() } }
syncBuiltinESMExports()
`
const run = (...args: readonly string[]) => spawnSync(process.execPath, ['--import', pathToFileURL(guard).href, resolve('dist/main.js'), ...args], { encoding: 'utf8', cwd: folder })

beforeAll(() => writeFileSync(guard, guardText))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

it('the guard ends a program that goes out', () => {
  for (const way of ["fetch('http://127.0.0.1:9')", "(await import('node:http')).get('http://127.0.0.1:9')", "(await import('node:dns')).promises.lookup('localhost')"])
    expect(spawnSync(process.execPath, ['--import', pathToFileURL(guard).href, '--input-type=module', '-e', way]).status).toBe(97)
})

it('no command goes out to the network', { timeout: 300_000 }, () => {
  const motor = ['--steps-per-rev', '48', '--microsteps', '4']
  const jobs: readonly (readonly string[])[] = [
    ['plan', ...motor, '--rig', 'pointer', '--length', '60mm', '--pen', '0.5mm'],
    ['sheet', ...motor, '--motor', 'flap-1', '--length', '60mm', '--paper', 'a4', '--out', 'sheet.pdf'],
    ['measure', resolve('samples/flap-1-can-stack.csv'), '--train', 'screw M4', '--out', 'typed'],
    ['measure', resolve('samples/flap-1-sheet.jpg'), '--out', 'photo'],
    ['travel', '--result', 'typed', '--screw', 'M4'],
    ['compare', 'typed', 'photo'],
    ['note', 'flap.md', '--new'],
    ['note', 'flap.md', 'typed'],
    ['replay', 'typed'],
  ]
  for (const job of jobs) {
    const { status, stderr } = run(...job)
    expect({ job: job[0], status, stderr: status === 0 ? '' : stderr }).toEqual({ job: job[0], status: 0, stderr: '' })
  }
})
