import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

const folder = mkdtempSync(join(tmpdir(), 'bad-input-'))
const evidence = join(folder, 'evidence')
const motor = ['--steps-per-rev', '48', '--microsteps', '4']

const grey = (width: number, height: number) => sharp({ create: { width, height, channels: 3, background: '#c8c8c8' } })

/** A PNG that declares a size far beyond its few bytes: signature, header chunk with its checksum left wrong, nothing more. */
const hugeHeader = (): Buffer => {
  const header = Buffer.alloc(33)
  Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]).copy(header)
  header.writeUInt32BE(13, 8)
  header.write('IHDR', 12)
  header.writeUInt32BE(30_000, 16)
  header.writeUInt32BE(30_000, 20)
  header.set([8, 2, 0, 0, 0], 24)
  return header
}

const noisy = (length: number): Buffer => Buffer.from(Array.from({ length }, (_, i) => (i * 7919 + (i >> 3) * 104729) & 0xff))

const inputs: Readonly<Record<string, () => Buffer | string | Promise<Buffer>>> = {
  'empty.csv': () => '',
  'words.csv': () => 'no numbers here\nnor here\n',
  'nan.csv': () => 'position\n0\nNaN\n2\n',
  'infinite.csv': () => 'position\n0\n-Infinity\n2\n',
  'one.csv': () => '1.5\n',
  'twice.csv': () => 'position,command\n0,0\n1,1\n2,1\n',
  'fraction.csv': () => 'position,command\n0,0\n1,0.5\n2,1\n',
  'zero-steps.csv': () => '# steps-per-rev: 0\n0\n1\n2\n',
  'negative-steps.csv': () => '# steps-per-rev: -48\n0\n1\n2\n',
  'unit.csv': () => '# position-unit: cubit\n0\n1\n2\n',
  'span.csv': () => 'position,command\n0,0\n100,1\n200,2\n300,3\n',
  'junk.csv': () => noisy(4000),
  'utf16.csv': () => Buffer.from('0\n1\n2\n', 'utf16le'),
  'cut.jpg': async () => (await sharp(noisy(600 * 400 * 3), { raw: { width: 600, height: 400, channels: 3 } }).jpeg().toBuffer()).subarray(0, 20_000),
  'dot.png': () => grey(1, 1).png().toBuffer(),
  'blank.png': () => grey(1200, 900).png().toBuffer(),
  'huge.png': hugeHeader,
  'junk.jpg': () => noisy(4000),
  'text.jpg': () => 'this is no picture',
}

beforeAll(async () => {
  for (const [name, make] of Object.entries(inputs)) writeFileSync(join(folder, name), await make())
  mkdirSync(evidence)
  writeFileSync(join(evidence, 'result.json'), 'earlier evidence')
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Runs the command; beside its outcome, the CPU time it took (s), which a busy machine does not stretch as it does the clock. */
const run = (...args: string[]) => {
  const spent = join(folder, 'cpu.txt')
  const noteCpu = `import { writeFileSync } from 'node:fs'; process.on('exit', () => { const { user, system } = process.cpuUsage(); writeFileSync(${JSON.stringify(spent)}, String((user + system) / 1e6)) })`
  const ended = spawnSync(process.execPath, ['--import', `data:text/javascript,${encodeURIComponent(noteCpu)}`, 'dist/main.js', ...args], { encoding: 'utf8' })
  return { ...ended, cpu: Number(readFileSync(spent, 'utf8')) }
}

describe('an input that cannot be measured ends with exit 1 and one sentence, and leaves the evidence as it was', () => {
  for (const name of [...Object.keys(inputs), 'not-there.csv', '.']) {
    it(name, () => {
      // --microsteps only where the file does not speak for itself.
      const options = name.includes('steps') ? ['--microsteps', '4'] : motor
      const { status, stdout, stderr, cpu } = run('measure', join(folder, name), ...options, '--out', evidence)
      // Two seconds are the promise; half as much again for cores that are shared.
      expect(cpu).toBeLessThan(3)
      expect(stderr).toMatch(/^[^\n]+: [^\n]+; [^\n]+\.\n$/)
      expect(status).toBe(1)
      expect(stdout).toBe('')
      expect(readdirSync(evidence)).toEqual(['result.json'])
      expect(readFileSync(join(evidence, 'result.json'), 'utf8')).toBe('earlier evidence')
    })
  }
})

describe('a folder named as a file is', () => {
  for (const command of ['detect', 'measure']) {
    it(`is not made by ${command}, which says what it would hold and how to name it`, () => {
      const out = join(folder, 'marks.csv')
      const { status, stderr } = run(command, join(folder, 'blank.png'), '--out', out)
      expect(status).toBe(1)
      expect(stderr).toMatch(/named as a file, but a folder with .+; give a folder, such as --out .+marks\.\n$/)
      expect(readdirSync(folder)).not.toContain('marks.csv')
    })
  }
})

describe('wrong usage ends with exit 2', () => {
  for (const args of [['measure'], ['measure', 'a', 'b'], ['measure', 'a', '--colour', 'red'], ['survey'], []]) {
    it(`stepwitness ${args.join(' ')}`, () => expect(run(...args).status).toBe(2))
  }
  it('help ends with 0', () => expect(run('--help').status).toBe(0))
})
