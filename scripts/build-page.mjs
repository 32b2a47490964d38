// Builds the bench page twice: dist/page for the server, dist/static to be opened from any web space without one.
// Usage: node scripts/build-page.mjs [folder instead of dist]
import { cpSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { brotliCompressSync, constants, gzipSync } from 'node:zlib'
import { build } from 'vite'

const root = resolve(import.meta.dirname, '..')
const client = join(root, 'src/adapters/page/client')
const dist = resolve(root, process.argv[2] ?? 'dist')

const ownSource = () => ({
  name: 'own-source',
  enforce: 'pre',
  resolveId: (path) => (path.startsWith('#') ? join(root, 'src', `${path.slice(1)}.ts`) : null),
})

// Without a server there are no headers: the static page carries the same policy itself (frame-ancestors cannot stand there).
const policy = "default-src 'none'; script-src 'self'; style-src 'self' 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
const ownPolicy = () => ({ name: 'own-policy', transformIndexHtml: () => [{ tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: policy }, injectTo: 'head-prepend' }] })

const variant = (name, isStatic) =>
  build({
    configFile: false,
    root: client,
    base: './',
    publicDir: 'public',
    logLevel: 'warn',
    clearScreen: false,
    plugins: [ownSource(), ...(isStatic ? [ownPolicy()] : [])],
    worker: { format: 'es', plugins: () => [ownSource()] },
    define: { __STATIC__: String(isStatic) },
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    build: { outDir: join(dist, name), emptyOutDir: true, chunkSizeWarningLimit: 1200, target: 'es2023', assetsInlineLimit: 0, modulePreload: { polyfill: false }, reportCompressedSize: false, rolldownOptions: { checks: { pluginTimings: false } } },
  })

/** Every text file beside itself compressed, so that the server needs no time for it. */
const compress = (folder) => {
  for (const entry of readdirSync(folder, { recursive: true })) {
    const path = join(folder, String(entry))
    if (!/\.(html|js|css|svg)$/.test(path) || !statSync(path).isFile()) continue
    const text = readFileSync(path)
    writeFileSync(`${path}.br`, brotliCompressSync(text, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }))
    writeFileSync(`${path}.gz`, gzipSync(text, { level: 9 }))
  }
}

for (const name of ['page', 'static']) rmSync(join(dist, name), { recursive: true, force: true })
await variant('page', false)
await variant('static', true)
compress(join(dist, 'page'))
cpSync(join(root, 'node_modules/dejavu-fonts-ttf/ttf/DejaVuSans.ttf'), join(dist, 'static/wide-font.ttf'))
cpSync(join(dist, 'assets/plotly.min.js'), join(dist, 'static/plotly.min.js'))
for (const name of ['page', 'static']) cpSync(join(root, 'samples/flap-1-can-stack.csv'), join(dist, name, 'example.csv'))
