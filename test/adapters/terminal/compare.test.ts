import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Command } from 'commander'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { CompareOptions } from '#adapters/terminal/compare-command'
import { runCompare } from '#adapters/terminal/compare/run-compare'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { normal, seededRandom } from '#core/numeric/seeded-random'
import { isUnmeasurable } from '#core/quantity/unmeasurable'

let folder = ''
const file = (name: string): string => join(folder, `${name}.json`)

/** A simulated motor of 48 steps with one wave of order 4, written as measure writes it. */
const writeResult = async (name: string, amplitudeDeg: number, seed: number): Promise<void> => {
  const random = seededRandom(seed)
  const rows = Array.from({ length: 97 }, (_, k) => `${1.875 * k + amplitudeDeg * Math.sin((Math.PI / 2) * k + 0.4) + 0.1 * normal(random)},${k}`)
  const trace = readTrace([`# motor: ${name}`, '# steps-per-rev: 48', '# microsteps: 4', '# mark-uncertainty: 0.1 deg', 'position,command', ...rows].join('\n'))
  if (isUnmeasurable(trace)) throw new Error(trace.what)
  await writeFile(file(name), JSON.stringify(measure(trace, { intervals: 'linear' })))
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'compare-'))
  await writeResult('heater flap', 0.7, 1)
  await writeResult('heater flap, more current', 0.2, 2)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const compared = async (options: CompareOptions): Promise<{ json: unknown; text: string }> => {
  const shown = await runCompare([file('heater flap'), file('heater flap, more current')], options, new Command('compare').exitOverride())
  if (isUnmeasurable(shown)) throw new Error(shown.what)
  return shown
}

describe('compare', () => {
  it('ranks the better one first and says that the difference is real', async () => {
    const { json, text } = await compared({})
    expect(json).toMatchObject({ ranked: [{ label: 'heater flap, more current' }, { label: 'heater flap' }] })
    expect(text).toMatch(/a\s+real\s+difference\s+\(p/)
  })
  it('takes needs at the carriage through a drive train: 0.7 mm of screw per turn over 48·N_eff positions', async () => {
    const { json } = await compared({ train: 'screw M4', needResolution: '0.004mm' })
    expect(json).toMatchObject({ requirement: { resolutionDeg: expect.closeTo((0.004 / 0.7) * 360, 9) }, ranked: [{ met: 'meets' }, { met: 'misses' }] })
  })
  it('writes the plot where it is asked to', async () => {
    const path = join(folder, 'plot.svg')
    await compared({ svg: path })
    expect(await readFile(path, 'utf8')).toMatch(/^<svg [^>]*>.*heater flap, more curre/s)
  })
  it('a file that is no result ends with what to do', async () => {
    await writeFile(file('other'), '{}')
    expect(await runCompare([file('other')], {}, new Command('compare'))).toMatchObject({ kind: 'unmeasurable', what: 'it is not a result document' })
  })
  it('a need that cannot be read is wrong usage', async () => {
    const command = new Command('compare').exitOverride().configureOutput({ writeErr: () => undefined })
    await expect(runCompare([file('heater flap')], { needEffective: 'many' }, command)).rejects.toMatchObject({ exitCode: 2 })
  })
})
