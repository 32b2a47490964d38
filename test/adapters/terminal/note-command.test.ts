import { spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { blocksIn } from '#core/report/note/note-markers'
import { sampleResult } from '../../core/report/note/sample-result.ts'
import { type BundledCommand, bundleCommand } from './bundled-command.ts'

const folder = mkdtempSync(join(tmpdir(), 'note-'))
let command: BundledCommand
beforeAll(async () => {
  command = await bundleCommand('note', 'addNote')
  writeFileSync(join(folder, 'result.json'), JSON.stringify(sampleResult('flap')))
}, 120_000)
afterAll(() => {
  command.remove()
  rmSync(folder, { recursive: true, force: true })
})

const at = (name: string) => join(folder, name)
const run = (...args: readonly string[]) =>
  spawnSync(process.execPath, [command.path, 'note', ...args], { encoding: 'utf8' })
const start = (...args: readonly string[]): Promise<number | null> =>
  new Promise((resolve) => {
    spawn(process.execPath, [command.path, 'note', ...args], { stdio: 'ignore' }).on('close', resolve)
  })

describe('note', () => {
  it('twenty at once on one note: no block is lost, nothing outside is touched', { timeout: 120_000 }, async () => {
    writeFileSync(at('shared.md'), '\uFEFF# Motor\r\n\r\nmine\r\n')
    const codes = await Promise.all(
      Array.from({ length: 20 }, (_, index) => start(at('shared.md'), at('result.json'), '--test', `run ${index}`)),
    )
    expect(codes).toEqual(Array(20).fill(0))
    const text = readFileSync(at('shared.md'), 'utf8')
    const places = blocksIn(text)
    expect(Array.isArray(places) && places.map(({ key }) => key).sort()).toEqual(
      Array.from({ length: 20 }, (_, index) => `run_${index}`).sort(),
    )
    expect(text.startsWith('\uFEFF# Motor\r\n\r\nmine\r\n\r\n<!-- stepwitness begin')).toBe(true)
    expect(readdirSync(folder).filter((name) => name.startsWith('shared.md'))).toEqual(['shared.md'])
  })

  it('refreshes without a change when nothing is new', () => {
    writeFileSync(at('same.md'), '# Motor\n')
    expect(JSON.parse(run(at('same.md'), at('result.json'), '--json').stdout)).toMatchObject({
      changed: true,
      test: 'flap_24x4',
    })
    expect(JSON.parse(run(at('same.md'), at('result.json'), '--json').stdout)).toMatchObject({ changed: false })
  })

  it.each([
    ['UTF-16', Buffer.from('\uFEFF# Motor\n', 'utf16le')],
    ['UTF-16 without its mark', Buffer.from('# Motor\n', 'utf16le')],
    ['Latin-1', Buffer.from('# Moteur \u00e0 pas\n', 'latin1')],
    ['broken markers', Buffer.from('# Motor\n<!-- stepwitness begin x -->\n')],
  ])('leaves a note in %s as it is: exit 1, one sentence', (name, bytes) => {
    const path = at(`${name}.md`)
    writeFileSync(path, bytes)
    const { status, stdout, stderr } = run(path, at('result.json'))
    expect([status, stdout]).toEqual([1, ''])
    expect(stderr).toMatch(/^[^\n]+: [^\n]+; [^\n]+\.\n$/)
    expect(readFileSync(path).equals(bytes)).toBe(true)
  })

  it('refuses a note, result or folder that is not there, and a result that is none', () => {
    writeFileSync(at('here.md'), 'x\n')
    writeFileSync(at('junk.json'), '{"schema": "other"}')
    for (const args of [
      [at('none.md'), at('result.json')],
      [at('here.md'), at('none.json')],
      [at('here.md'), at('junk.json')],
      ['--index', at('nowhere')],
      ['--new', at('here.md')],
    ])
      expect(run(...args).status).toBe(1)
    expect(readFileSync(at('here.md'), 'utf8')).toBe('x\n')
  })

  it('wrong usage ends with exit 2', () => {
    for (const args of [
      [],
      ['a.md'],
      ['a.md', 'b.json', '--new'],
      ['a.md', 'b', 'c'],
      ['a.md', 'b', '--needs', 'x'],
      ['--index', folder, '--csv', '--markdown'],
      ['--index', folder, '--needs', 'gold'],
    ])
      expect(run(...args).status).toBe(2)
  })

  it('begins a note in a folder that was not there, puts a result in, lists it and finds it by need', () => {
    expect(run(at('notes/flap.md'), '--new', '--motor', 'flap motor', '--steps-per-rev', '24').status).toBe(0)
    expect(run(at('notes/flap.md'), folder).status).toBe(0)
    const { rows, answers } = JSON.parse(
      run('--index', at('notes'), '--needs', '0.05 mm on a 1 mm screw', '--json').stdout,
    )
    expect(rows).toMatchObject([{ part: 'flap motor', figures: { stepsPerRev: 24 } }])
    expect(answers).toEqual([{ note: 'flap.md', part: 'flap motor', answer: 'pass', by: 'full, 0.0417 mm' }])
  })
})
