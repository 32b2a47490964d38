import { existsSync } from 'node:fs'
import { mkdir, realpath } from 'node:fs/promises'
import { networkInterfaces } from 'node:os'
import { fileURLToPath } from 'node:url'
import type { Command } from 'commander'
import { benchServer } from '#adapters/page/server/bench-server'
import type { BenchActions } from '#adapters/page/server/server-options'
import type { BenchOptions } from '#adapters/terminal/bench-command'
import { wrongUsage } from '#adapters/terminal/motor-options'
import { tell } from '#adapters/terminal/outcome'
import { detectApart } from './detect-apart.ts'
import { evidenceApart, evidenceOf } from './evidence-apart.ts'
import { projectKey } from './project-key.ts'
import { putNote } from './put-note.ts'

const ownAddresses = (): readonly string[] =>
  Object.values(networkInterfaces()).flatMap((each) => (each ?? []).flatMap(({ family, address, internal }) => (family === 'IPv4' && !internal ? [address] : [])))

/** A folder of the build, seen from a bundle in dist/ or dist/parts/. */
const built = (name: string): string => {
  const found = [`./${name}`, `../${name}`].map((path) => fileURLToPath(new URL(path, import.meta.url))).find((path) => existsSync(path))
  if (found === undefined) throw new Error(`dist/${name} is missing; run npm run build`)
  return found
}

const actionsFor = (project: string): BenchActions => {
  const program = process.argv[1] ?? ''
  return { detect: detectApart(program), writeEvidence: evidenceApart(program, project, tell), putNote }
}

const portOf = (text: string, command: Command): number => {
  const port = Number(text)
  return Number.isInteger(port) && port >= 1 && port < 65_536 ? port : wrongUsage(command, `--port must be a port number, not "${text}"`)
}

/** Serves until it is stopped. The link holds the key behind #, so that it is never sent or logged. */
export const runBench = async (options: BenchOptions, command: Command): Promise<void> => {
  const port = portOf(options.port, command)
  await mkdir(options.project, { recursive: true })
  const project = await realpath(options.project)
  if (options.evidenceOf !== undefined) {
    process.stdout.write(JSON.stringify(await evidenceOf(project, options.evidenceOf)))
    return
  }
  const lan = options.lan ? ownAddresses() : []
  const key = await projectKey(project)
  const { app, keys } = await benchServer({ project, pageRoot: built('page'), assetRoot: built('assets'), key, port, lan, actions: actionsFor(project), log: tell })
  try {
    await app.listen({ port, host: options.lan ? '0.0.0.0' : '127.0.0.1' })
  } catch (error) {
    tell((error as { code?: string }).code === 'EADDRINUSE' ? `port ${port} is taken: choose another with --port` : `the page cannot be served: ${(error as Error).message}`)
    process.exitCode = 1
    return
  }
  const address = `http://127.0.0.1:${port}/#key=${key}`
  process.stdout.write(options.json ? `${JSON.stringify({ address, project })}\n` : `The bench is open: ${address}\nProject folder: ${project}\nStop it with Ctrl+C.\n`)
  if (options.lan) {
    const { code, minutes } = keys.newCode()
    tell(`On the phone, open ${lan.map((host) => `http://${host}:${port}/`).join(' or ')} and give the code ${code.slice(0, 4)} ${code.slice(4)} (once, within ${minutes} minutes).`)
  }
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void app.close().then(() => process.exit(0)))
}
