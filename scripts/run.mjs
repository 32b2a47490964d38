// Runs a TypeScript script: bundles it with esbuild into a temporary folder, then imports it.
// Usage: node scripts/run.mjs scripts/render/cli.ts [arguments]
import { mkdtempSync, rmSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const root = resolve(import.meta.dirname, '..')
const [entry, ...rest] = process.argv.slice(2)
if (entry === undefined) {
  console.error('Say which script to run: node scripts/run.mjs scripts/<name>.ts [arguments]')
  process.exit(2)
}

// Inside node_modules, so that the bundle finds the packages it leaves outside.
const scratch = mkdtempSync(join(root, 'node_modules', '.run-'))
process.on('exit', () => rmSync(scratch, { recursive: true, force: true }))
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(1))

const outfile = join(scratch, 'script.mjs')
await build({
  entryPoints: [resolve(entry)],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  conditions: ['stepwitness-source'],
  packages: 'external',
  // Package.json "imports" look like package names to `packages: external`; resolve them here.
  plugins: [
    {
      name: 'own-source',
      setup: (b) => b.onResolve({ filter: /^#/ }, ({ path }) => ({ path: join(root, 'src', `${path.slice(1)}.ts`) })),
    },
  ],
  sourcemap: 'inline',
  logLevel: 'warning',
})
process.argv = [process.argv[0], resolve(entry), ...rest]
process.setSourceMapsEnabled?.(true)
await import(pathToFileURL(outfile).href)
