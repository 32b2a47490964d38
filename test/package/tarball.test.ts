import { spawn, spawnSync } from 'node:child_process'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

const place = mkdtempSync(join(tmpdir(), 'tarball-'))
const home = join(place, 'home')
const app = join(place, 'app')
const cache = spawnSync('npm', ['config', 'get', 'cache'], { encoding: 'utf8' }).stdout.trim()
// A home nobody has lived in; only the cache of packages is shared, so that nothing is fetched twice.
const env = { ...process.env, HOME: home, npm_config_cache: cache, NODE_PATH: '', NO_COLOR: '1' }
const here = (program: string, args: readonly string[]) => spawnSync(program, args, { cwd: app, env, encoding: 'utf8', maxBuffer: 64e6 })
const tool = (...args: readonly string[]) => here(join(app, 'node_modules/.bin/stepwitness'), args)

beforeAll(() => {
  for (const each of [home, app]) mkdirSync(each)
  const packed = spawnSync('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', place], { encoding: 'utf8', maxBuffer: 64e6 })
  const [{ filename }] = JSON.parse(packed.stdout)
  writeFileSync(join(app, 'package.json'), '{"private": true, "type": "module"}')
  const { status, stderr } = here('npm', ['install', join(place, filename), '--prefer-offline', '--no-audit', '--no-fund'])
  if (status !== 0) throw new Error(stderr)
  for (const sample of ['flap-1-can-stack.csv', 'flap-1-sheet.jpg']) cpSync(join('samples', sample), join(app, sample))
}, 300_000)
afterAll(() => rmSync(place, { recursive: true, force: true }))

describe('the tarball in an empty folder, under an empty home', () => {
  it('measures a typed trace and replays it', { timeout: 120_000 }, () => {
    expect(tool('measure', 'flap-1-can-stack.csv', '--out', 'typed')).toMatchObject({ status: 0, stdout: expect.stringContaining('full steps') })
    for (const file of ['report.html', 'figures/trace.png', 'manifest.json', 'input.csv']) expect(existsSync(join(app, 'typed', file))).toBe(true)
    expect(tool('replay', 'typed')).toMatchObject({ status: 0, stdout: expect.stringContaining('The same') })
  })

  it('measures a photo of a printed sheet, and draws such a sheet', { timeout: 120_000 }, () => {
    expect(tool('measure', 'flap-1-sheet.jpg', '--out', 'photo')).toMatchObject({ status: 0 })
    expect(existsSync(join(app, 'photo/overlay.png'))).toBe(true)
    expect(tool('sheet', '--motor', 'flap', '--steps-per-rev', '48', '--microsteps', '4', '--out', 'flap.pdf')).toMatchObject({ status: 0 })
    expect(readFileSync(join(app, 'flap.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
  })

  it('serves the page', { timeout: 120_000 }, async () => {
    const port = 20_000 + (process.pid % 20_000)
    const bench = spawn(join(app, 'node_modules/.bin/stepwitness'), ['bench', '--port', String(port), '--json'], { cwd: app, env, stdio: ['ignore', 'pipe', 'pipe'] })
    try {
      await new Promise((ready, failed) => {
        bench.stdout.once('data', ready)
        bench.once('close', () => failed(new Error('the bench ended')))
      })
      const page = await fetch(`http://127.0.0.1:${port}/`)
      expect(page.status).toBe(200)
      expect(await page.text()).toContain('<script')
    } finally {
      bench.kill()
    }
  })

  it('is a library with types and schemas', { timeout: 120_000 }, () => {
    const script = `import { isUnmeasurable, measure, readTrace } from 'stepwitness'
import { readFileSync } from 'node:fs'
const trace = readTrace(readFileSync('flap-1-can-stack.csv', 'utf8'))
const result = isUnmeasurable(trace) ? trace : measure(trace)
console.log(result.recommendation.microsteps, import.meta.resolve('stepwitness/schemas/result.schema.json').endsWith('.json'))`
    writeFileSync(join(app, 'use.mjs'), script)
    expect(here(process.execPath, ['use.mjs'])).toMatchObject({ stdout: '1 true\n', status: 0 })
    writeFileSync(join(app, 'use.ts'), `import { isUnmeasurable, measure, readTrace, type Result } from 'stepwitness'
const trace = readTrace('1')
const result = isUnmeasurable(trace) ? null : measure(trace, { seed: 2 })
export const peak: number | null = result && !isUnmeasurable(result) ? result.figures.positionErrorPeakDeg : null
// @ts-expect-error a figure that does not exist
export const wrong = (result: Result) => result.figures.nonsense
// @ts-expect-error the seed is a number
measure(trace, { seed: 'x' })
`)
    for (const modes of [['NodeNext', 'NodeNext'], ['ESNext', 'Bundler']])
      expect(here(resolve('node_modules/.bin/tsc'), ['--noEmit', '--strict', '--target', 'ES2023', '--module', modes[0] ?? '', '--moduleResolution', modes[1] ?? '', 'use.ts'])).toMatchObject({ stdout: '', status: 0 })
  })

  it('says what is installed, under which licence', () => {
    const list = readFileSync(join(app, 'node_modules/stepwitness/dist/licences.txt'), 'utf8')
    for (const name of ['sharp', 'commander', 'simple-statistics', 'opencv-wasm', 'plotly.js-dist', 'papaparse', 'preact']) expect(list).toMatch(new RegExp(`^${name} \\d`, 'm'))
    // The picture decoder's library under the LGPL is loaded as its own file, which that licence allows; the GPL itself would bind the tool.
    expect(list).not.toMatch(/not stated|(?<!L)GPL/)
  })
})
