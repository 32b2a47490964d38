import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'

/** Built program; another folder may be named for trying. */
export const dist = resolve(process.env['STEPWITNESS_DIST'] ?? 'dist')

export interface Running {
  readonly project: string
  readonly port: number
  /** With the key behind #. */
  readonly address: string
  readonly key: string
  readonly log: () => string
  readonly stop: (signal?: NodeJS.Signals) => Promise<void>
}

export const freePort = (): Promise<number> =>
  new Promise((done) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => done(typeof address === 'object' && address ? address.port : 0))
    })
  })

export const freshProject = (): string => mkdtempSync(join(tmpdir(), 'bench-'))

const listening = (child: ChildProcess, log: () => string): Promise<string> =>
  new Promise((done, fail) => {
    child.stdout?.once('data', (text: Buffer) => done((JSON.parse(String(text)) as { address: string }).address))
    child.once('exit', () => fail(new Error(`the bench did not start: ${log()}`)))
  })

/** The bench as a person starts it, on a project folder of its own unless one is given. */
export const startBench = async (project = freshProject(), port?: number): Promise<Running> => {
  const at = port ?? (await freePort())
  const child = spawn(process.execPath, [join(dist, 'main.js'), 'bench', '--project', project, '--port', String(at), '--json'], { stdio: ['ignore', 'pipe', 'pipe'] })
  // A test that fails half way leaves no server behind.
  process.once('exit', () => child.kill('SIGKILL'))
  let said = ''
  child.stderr.on('data', (text: Buffer) => { said += String(text) })
  const address = await listening(child, () => said)
  const stop = (signal: NodeJS.Signals = 'SIGTERM'): Promise<void> =>
    new Promise((done) => {
      if (child.exitCode !== null || child.signalCode !== null) return done()
      child.once('exit', () => done())
      child.kill(signal)
    })
  return { project, port: at, address, key: address.split('#key=')[1] ?? '', log: () => said, stop }
}
