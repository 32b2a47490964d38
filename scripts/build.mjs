// Builds dist/: the command and the pure core as bundles, their types, and plotly minified once for every report.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { build } from 'esbuild'
import { buildPackage } from './package/build-package.mjs'
import { nativePartInstalled } from './package/native-part.mjs'

const root = resolve(import.meta.dirname, '..')
const dist = join(root, 'dist')
// Packages with native code, wasm files or assets of their own stay packages; the rest is bundled so that a command starts fast.
const left = ['opencv-wasm', '@resvg/resvg-js', 'zxing-wasm', 'dejavu-fonts-ttf', 'plotly.js-dist', 'piscina', 'fastify', '@fastify/*', 'write-file-atomic', 'proper-lockfile']

const ownSource = {
  name: 'own-source',
  setup: (b) => b.onResolve({ filter: /^#/ }, ({ path }) => ({ path: join(root, 'src', `${path.slice(1)}.ts`) })),
}

rmSync(dist, { recursive: true, force: true })
mkdirSync(join(dist, 'assets'), { recursive: true })

const { metafile } = await build({
  entryPoints: { main: join(root, 'src/main.ts') },
  outdir: dist,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  external: left,
  plugins: [ownSource, nativePartInstalled],
  minifySyntax: true,
  sourcemap: false,
  metafile: true,
  chunkNames: 'parts/[name]-[hash]',
  banner: { js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);" },
  logLevel: 'warning',
})

// The library puts a map's style sheet into every page, drawn or not, which a strict content security policy refuses;
// neither the page nor the report draws maps, so that sheet is left out.
const withoutMapStyle = {
  name: 'without-map-style',
  setup: (b) =>
    b.onLoad({ filter: /plotly\.js$/ }, ({ path }) => {
      const text = readFileSync(path, 'utf8')
      const without = text.replace(/var \w+ = document\.createElement\("style"\);\s*\w+\.id = "[0-9a-f]{64}";\s*\w+\.textContent = `[^`]*`;\s*document\.head\.appendChild\(\w+\);/g, '')
      if (text.length - without.length < 50_000) throw new Error('the plotting library no longer brings its map style sheet where it did: look at its style elements again')
      return { contents: without, loader: 'js' }
    }),
}

await build({
  entryPoints: [join(root, 'node_modules/plotly.js-dist/plotly.js')],
  plugins: [withoutMapStyle],
  outfile: join(dist, 'assets/plotly.min.js'),
  minify: true,
  legalComments: 'none',
  charset: 'ascii',
  logLevel: 'error',
})

const pageBuild = join(root, 'scripts/build-page.mjs')
if (existsSync(pageBuild)) {
  const page = spawnSync(process.execPath, [pageBuild], { stdio: 'inherit', cwd: root })
  if (page.status !== 0) process.exit(page.status ?? 1)
}

await buildPackage(root, dist, { ownSource, inputs: [...Object.keys(metafile.inputs), 'node_modules/plotly.js-dist/', 'node_modules/preact/', 'node_modules/fflate/', 'node_modules/assemblyscript/'] })
