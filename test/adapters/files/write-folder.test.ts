import { spawn, spawnSync } from 'node:child_process'
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { build } from 'esbuild'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readResult } from '#adapters/files/read-result'
import { scratchFamily, scratchPrefix } from '#adapters/files/swap-folder'
import { tidied } from '#adapters/files/tidied'
import { type FolderContents, writeFolder } from '#adapters/files/write-folder'

const folder = mkdtempSync(join(tmpdir(), 'write-folder-'))
const scratch = mkdtempSync(resolve('node_modules/.write-folder-'))
const writer = join(scratch, 'writer.mjs')

/** Writes the folder named again and again, all its files holding one letter, until it is killed. */
const loop = `import { writeFolder } from '#adapters/files/write-folder'
const [target, letters] = process.argv.slice(2)
const contents = (letter) => new Map([['result.json', letter], ['report.html', letter.repeat(300_000)], ['figures/a.svg', letter], ['note.md', letter]])
for (let i = 0; ; i++) {
  const refused = await writeFolder(target, contents(letters[i % letters.length]))
  if (refused) { console.error(JSON.stringify(refused)); process.exit(1) }
  if (i === 0) console.log('begun')
}`

beforeAll(async () => {
  await build({
    stdin: { contents: loop, resolveDir: resolve('src'), loader: 'ts' },
    outfile: writer,
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    plugins: [{ name: 'own-source', setup: (b) => { b.onResolve({ filter: /^#/ }, ({ path }) => ({ path: resolve('src', `${path.slice(1)}.ts`) })) } }],
    logLevel: 'silent',
  })
})
afterAll(() => {
  for (const each of [folder, scratch]) rmSync(each, { recursive: true, force: true })
})

const contents = (letter: string): FolderContents => new Map([['result.json', letter], ['figures/a.svg', letter]])
const read = (target: string) => readdirSync(target, { recursive: true, withFileTypes: true }).filter((each) => each.isFile()).map((each) => readFileSync(join(each.parentPath, each.name), 'utf8')[0])
const leftBeside = (target: string) => readdirSync(join(target, '..')).filter((name) => name.startsWith(scratchFamily(target)))
const place = (name: string): string => join(mkdtempSync(join(folder, 'case-')), name)

/** Starts a writer; kills it without warning after a while. Gives the signal it ended by, null when it ended by itself. */
const killed = (target: string, letters: string, afterMs: number): Promise<string | null> =>
  new Promise((done) => {
    const child = spawn(process.execPath, [writer, target, letters], { stdio: ['ignore', 'pipe', 'ignore'] })
    child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), afterMs))
    child.on('close', (_, signal) => done(signal))
  })

describe('a folder is written whole or not at all', () => {
  it('replaces an earlier one with all that was in it, and leaves nothing beside', async () => {
    const target = place('evidence')
    expect(await writeFolder(target, new Map([...contents('a'), ['overlay.png', 'a']]))).toBe(null)
    expect(await writeFolder(target, contents('b'))).toBe(null)
    expect([read(target), leftBeside(target)]).toEqual([['b', 'b'], []])
  })

  it('killed at 25 moments while it writes: every file is of one writing, and the next run tidies up', { timeout: 120_000 }, async () => {
    const target = place('evidence')
    // Moments spread over a tenth of a second of writing; where each falls in a writing is the scheduler's chance.
    for (let i = 0; i < 25; i++) {
      await killed(target, 'ab', i * 4)
      const seen = existsSync(target) ? new Set(read(target)) : null
      expect(seen?.size ?? 1).toBe(1)
      if (seen) expect(readdirSync(target)).toHaveLength(4)
    }
    expect(await writeFolder(target, contents('c'))).toBe(null)
    expect([read(target), leftBeside(target)]).toEqual([['c', 'c'], []])
  })

  /** The evidence as a run leaves it that is stopped between its two renames. */
  const stoppedBetween = async (target: string): Promise<string> => {
    await writeFolder(target, contents('a'))
    // A process that has ended: its number belongs to nobody now.
    const { pid } = spawnSync(process.execPath, ['-e', ''])
    const left = `${scratchPrefix(target).replace(`-${process.pid}-`, `-${pid}-`)}AbCdEf`
    mkdirSync(left)
    renameSync(target, join(left, 'old-0'))
    return join(left, 'old-0')
  }

  it('stopped in the instant between the two renames: the next run puts the earlier folder back first', async () => {
    const target = place('evidence')
    writeFileSync(join(await stoppedBetween(target), 'mine.txt'), 'x')
    expect(await writeFolder(target, contents('b'))).toMatchObject({ what: expect.stringContaining('mine.txt') })
    expect([readFileSync(join(target, 'result.json'), 'utf8'), leftBeside(target)]).toEqual(['a', []])
  })

  it.each(['', 'result.json'])('and so does whoever reads it next (evidence/%s)', async (file) => {
    const target = place('evidence')
    await stoppedBetween(target)
    await readResult(join(target, file))
    expect([readFileSync(join(target, 'result.json'), 'utf8'), leftBeside(target)]).toEqual(['a', []])
  })

  it('cleared up after by many runs, one a moment behind the other: each finds it done', async () => {
    const target = place('evidence')
    const { pid } = spawnSync(process.execPath, ['-e', ''])
    await stoppedBetween(target)
    for (let i = 0; i < 40; i++) mkdirSync(`${scratchPrefix(target).replace(`-${process.pid}-`, `-${pid}-`)}Left${String(i).padStart(2, '0')}`)
    const behind = async (moments: number): Promise<void> => {
      for (let i = 0; i < moments; i++) await new Promise(setImmediate)
      await tidied(target)
    }
    await Promise.all(Array.from({ length: 20 }, (_, i) => behind(i)))
    expect([read(target), leftBeside(target)]).toEqual([['a', 'a'], []])
  })

  it('written by four processes at once: one of them whole, no error, what living runs use is left alone', { timeout: 60_000 }, async () => {
    const target = place('evidence')
    expect(await Promise.all(['a', 'b', 'c', 'd'].map((letter) => killed(target, letter, 1500)))).toEqual(Array(4).fill('SIGKILL'))
    await writeFolder(target, new Map([...contents('e')]))
    expect([read(target), leftBeside(target)]).toEqual([['e', 'e'], []])
  })

  it('follows a link to the folder instead of replacing the link', async () => {
    const target = place('evidence')
    await writeFolder(target, contents('a'))
    symlinkSync(target, `${target}-link`)
    await writeFolder(`${target}-link`, contents('b'))
    expect(read(target)).toEqual(['b', 'b'])
  })
})

describe('what was there is kept', () => {
  it.each([
    ['a folder of somebody’s', (target: string) => { mkdirSync(target); writeFileSync(join(target, 'thesis.txt'), 'x') }],
    ['evidence with a file put into it', (target: string) => { mkdirSync(target); writeFileSync(join(target, 'result.json'), 'x'); writeFileSync(join(target, 'my-remarks.txt'), 'x') }],
    ['evidence with a picture put among the figures', (target: string) => { mkdirSync(join(target, 'figures'), { recursive: true }); writeFileSync(join(target, 'result.json'), 'x'); writeFileSync(join(target, 'figures/Holiday 1.jpg'), 'x') }],
    ['a file', (target: string) => writeFileSync(target, 'x')],
  ])('%s is not replaced', async (_, make) => {
    const target = place('evidence')
    make(target)
    const outcome = await writeFolder(target, contents('a'))
    expect(outcome).toMatchObject({ kind: 'unmeasurable', remedy: 'move it away, or choose an empty or new folder with --out' })
    expect(existsSync(join(target, 'figures/a.svg'))).toBe(false)
  })

  it('when a file cannot be written whole: a real limit on file size, one sentence, the earlier folder', async () => {
    const target = place('evidence')
    await writeFolder(target, contents('z'))
    // 64 blocks of 1 KiB: the report of 300,000 bytes does not fit.
    const { status, stderr } = spawnSync('bash', ['-c', `ulimit -f 64; exec "${process.execPath}" "${writer}" "${target}" a`], { encoding: 'utf8' })
    expect(status).toBe(1)
    expect(JSON.parse(stderr)).toMatchObject({ what: 'a file would be larger than the system lets you write; nothing was changed' })
    expect([read(target), leftBeside(target)]).toEqual([['z', 'z'], []])
  })

  it('when the place cannot be written to', async () => {
    const target = place('evidence')
    writeFileSync(target, 'a file')
    expect(await writeFolder(join(target, 'within'), contents('a'))).toMatchObject({ kind: 'unmeasurable' })
    expect(await writeFolder('/proc/evidence', contents('a'))).toMatchObject({ what: expect.stringContaining('nothing was changed') })
  })

  // The superuser may write anywhere, so this shows nothing there.
  it.skipIf(process.getuid?.() === 0)('in a read-only folder', async () => {
    const target = place('evidence')
    chmodSync(join(target, '..'), 0o555)
    expect(await writeFolder(target, contents('a'))).toMatchObject({ what: 'you may not write there; nothing was changed' })
    chmodSync(join(target, '..'), 0o755)
  })
})
