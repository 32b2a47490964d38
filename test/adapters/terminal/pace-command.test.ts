import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { seededRandom } from '#core/numeric/seeded-random'
import { readTrace } from '#core/ingest/read-trace'
import { killAfter } from '../../../scripts/kill/kill-after.ts'
import { killPace } from '../../../scripts/kill/kill-pace.ts'
import { type BundledCommand, bundleCommand } from './bundled-command.ts'

const folder = mkdtempSync(join(tmpdir(), 'pace-'))
let command: BundledCommand
beforeAll(async () => {
  command = await bundleCommand('pace', 'addPace')
}, 120_000)
afterAll(() => {
  command.remove()
  rmSync(folder, { recursive: true, force: true })
})

const motor = ['--steps-per-rev', '48', '--microsteps', '4', '--run-up', '0', '--settle', '0s', '--rate', '10000']
const run = (args: readonly string[], input = '') =>
  spawnSync(process.execPath, [command.path, 'pace', ...args], { encoding: 'utf8', input })
const rowsOf = (path: string) =>
  readFileSync(path, 'utf8')
    .split('\n')
    .filter((line) => /^[^#]*,\d+,,\d+,[+-],/.test(line))

describe('pace killed at random moments', () => {
  it('loses no mark, and goes on with the next one', { timeout: 180_000 }, async () => {
    const { old, fresh, neither } = await killPace([command.path, 'pace'], { folder, moments: 50, random: seededRandom(11) })
    expect({ neither, all: old + fresh }).toEqual({ neither: [], all: 50 })
    expect(fresh).toBeGreaterThan(10)
  })

  it('killed while it begins, leaves no file or one that can be gone on with', { timeout: 60_000 }, async () => {
    const random = seededRandom(12)
    for (let kill = 0; kill < 8; kill += 1) {
      const path = join(folder, `begun-${kill}.csv`)
      await killAfter([command.path, 'pace', path, ...motor, '--commands', '1', '--dwell', '5s'], { ms: 150 + 500 * random() })
      if (existsSync(path)) expect(run([path, '--resume'], 'q').status).toBe(0)
    }
  })

  it('drops a row that the stop cut in half and asks for that mark again', () => {
    const path = join(folder, 'half.csv')
    run([path, ...motor, '--commands', '4', '--dwell', '0.001s'], '\n\nq')
    writeFileSync(path, `${readFileSync(path, 'utf8')},2,,1`)
    const { status } = run([path, '--resume'])
    expect(status).toBe(0)
    expect(rowsOf(path).map((row) => row.split(',')[1])).toEqual(['0', '1', '2', '3', '4'])
  })

  it('goes on as it was begun, and says so where another number of commands is typed', () => {
    const path = join(folder, 'other.csv')
    run([path, ...motor, '--commands', '4', '--dwell', '0s'], '\n\nq')
    const before = readFileSync(path, 'utf8')
    const { status, stderr } = run([path, '--resume', '--commands', '8'], 'q')
    expect(status).not.toBe(0)
    expect(stderr).toContain('begun with --commands 4, not 8; leave --commands out')
    expect(readFileSync(path, 'utf8')).toBe(before)
    expect(run([path, '--resume', '--commands', '4'], 'q').status).toBe(0)
  })
})

describe('pace fed by a pipe', () => {
  it('takes Enter as marked, digits as the position, n as a note, s as no mark', () => {
    const path = join(folder, 'keys.csv')
    const { status, stderr } = run(
      [path, ...motor, '--commands', '3', '--dwell', '0s', '--motor', 'flap, "heater"', '--json'],
      '0\n1.9\nn=1+1\u001b[31m\ns5.6\n',
    )
    expect([status, stderr.includes('MARK')]).toEqual([0, true])
    const text = readFileSync(path, 'utf8')
    expect(text).toContain('\n0,0,,1,+,\n1.9,1,,1,+,\n# skipped pass 1 + command 2\n5.6,3,,1,+,\n')
    expect(text).not.toContain('\u001b')
    const trace = readTrace(text)
    expect(trace.kind === 'trace' && trace.marks.map(({ position, command: k }) => [position, k])).toEqual([
      [0, 0],
      [1.9, 1],
      [5.6, 3],
    ])
    expect(trace.kind === 'trace' && trace.warnings).toEqual([])
  })

  it('goes on by the clock when the pipe has ended', () => {
    const path = join(folder, 'clock.csv')
    const { status, stdout } = run([path, ...motor, '--commands', '5', '--dwell', '0.01s', '--both-ways', '--json'])
    expect([status, JSON.parse(stdout)]).toEqual([
      0,
      { schema: 'stepwitness/pace@1', trace: path, marks: 12, skipped: 0, left: 0, finished: true },
    ])
  })

  it('stops when it must wait for Enter and none can come', () => {
    const path = join(folder, 'ended.csv')
    expect(
      JSON.parse(run([path, ...motor, '--commands', '5', '--dwell', '0s', '--json'], '\n\n').stdout),
    ).toMatchObject({ marks: 2, left: 4, finished: false })
  })
})

describe('pace refuses', () => {
  it('a file that is there already, a foreign file to go on with, a dwell that heats: exit 1, one sentence', () => {
    const path = join(folder, 'there.csv')
    writeFileSync(path, 'position\n1\n')
    for (const args of [
      [path, ...motor],
      [path, '--resume'],
      [join(folder, 'none.csv'), '--resume'],
      [join(folder, 'hot.csv'), ...motor, '--dwell', '90s'],
      [join(folder, 'no', 'folder.csv'), ...motor],
    ]) {
      const { status, stderr, stdout } = run(args)
      expect([status, stdout]).toEqual([1, ''])
      expect(stderr).toMatch(/^[^\n]+: [^\n]+; [^\n]+\.\n$/)
    }
    expect(readFileSync(path, 'utf8')).toBe('position\n1\n')
  })

  it('wrong usage with exit 2', () => {
    for (const args of [
      [],
      ['a', '--gcode', ...motor],
      ['--gcode', '--csv', ...motor],
      ['--gcode', '--steps-per-rev', '0', '--microsteps', '1'],
      ['--gcode', ...motor, '--axis', 'Q'],
      ['--gcode', ...motor, '--dwell', 'long'],
    ])
      expect(run(args).status).toBe(2)
  })
})
