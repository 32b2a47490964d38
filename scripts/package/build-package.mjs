// The package's door: dist/api.js, its types, JSON Schemas, API page and the list of licences.
import { spawnSync } from 'node:child_process'
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'
import { apiPage } from './api-page.mjs'
import { licenceList } from './licences.mjs'

const typesOf = (root, dist) => {
  const types = join(dist, 'types')
  const { status, stdout } = spawnSync(join(root, 'node_modules/.bin/tsc'), ['-p', join(root, 'scripts/package/tsconfig.json'), '--outDir', types], { encoding: 'utf8' })
  if (status !== 0) throw new Error(`types: ${stdout}`)
  // Consumers resolve ./x.js to ./x.d.ts, whatever their settings.
  for (const each of readdirSync(types, { recursive: true, withFileTypes: true })) {
    if (!each.isFile()) continue
    const path = join(each.parentPath, each.name)
    writeFileSync(path, readFileSync(path, 'utf8').replace(/(from '|from "|import\(['"])(\.[^'"]+)\.ts(['"])/g, '$1$2.js$3'))
  }
}

const schemasOf = async (dist) => {
  const { resultSchema, evidenceSchema, traceSchema } = await import(pathToFileURL(join(dist, 'api.js')).href)
  const { toJSONSchema } = await import('zod')
  mkdirSync(join(dist, 'schemas'), { recursive: true })
  for (const [name, schema] of Object.entries({ result: resultSchema, evidence: evidenceSchema, trace: traceSchema }))
    writeFileSync(join(dist, 'schemas', `${name}.schema.json`), `${JSON.stringify({ title: `stepwitness ${name}`, ...toJSONSchema(schema) }, null, 1)}\n`)
}

/** @param inputs what the other bundles took in, for the list of licences */
export const buildPackage = async (root, dist, { ownSource, inputs }) => {
  const { metafile } = await build({ entryPoints: { api: join(root, 'src/api.ts') }, outdir: dist, bundle: true, format: 'esm', platform: 'browser', target: 'es2022', external: ['zod'], plugins: [ownSource], metafile: true, logLevel: 'warning' })
  typesOf(root, dist)
  await schemasOf(dist)
  writeFileSync(join(dist, 'api.md'), apiPage(root))
  writeFileSync(join(dist, 'licences.txt'), licenceList(root, [...inputs, ...Object.keys(metafile.inputs)]))
}
