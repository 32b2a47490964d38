import { readFileSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import { extname, join } from 'node:path'
import { dist, freePort } from './bench-process.ts'

export interface WebSpace {
  readonly server: Server
  readonly address: string
}

const types: Readonly<Record<string, string>> = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml' }

/** Any web space: files, and nothing that could do work. */
export const webSpace = async (): Promise<WebSpace> => {
  const port = await freePort()
  const server = createServer(({ url = '/' }, answer) => {
    const name = url === '/' ? 'index.html' : url.slice(1)
    try {
      const file = readFileSync(join(dist, 'static', name))
      answer.writeHead(200, { 'content-type': types[extname(name)] ?? 'application/octet-stream' }).end(file)
    } catch {
      answer.writeHead(404).end()
    }
  }).listen(port, '127.0.0.1')
  return { server, address: `http://127.0.0.1:${port}/` }
}
