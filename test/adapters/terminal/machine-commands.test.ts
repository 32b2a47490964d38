import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { type BundledCommand, bundleCommand } from './bundled-command.ts'

const folder = mkdtempSync(join(tmpdir(), 'machine-'))
const adders = { travel: 'addTravel', plan: 'addPlan', identify: 'addIdentify' } as const
type Name = keyof typeof adders
const commands = new Map<Name, BundledCommand>()
const names = Object.keys(adders) as Name[]

beforeAll(async () => {
  for (const name of names) commands.set(name, await bundleCommand(name, adders[name]))
}, 120_000)
afterAll(() => {
  for (const command of commands.values()) command.remove()
  rmSync(folder, { recursive: true, force: true })
})

const run = (name: Name, args: readonly string[], columns = 80) =>
  spawnSync(process.execPath, [commands.get(name)?.path ?? '', name, ...args], {
    encoding: 'utf8',
    env: { ...process.env, COLUMNS: String(columns) },
  })

const motor = ['--steps-per-rev', '200', '--microsteps', '16']
const loaded = ['--mass', '1.2kg', '--force', '0.5kgf', '--speed', '5mm/s', '--holding', '40N·cm']
const pullOut = ['--pull-out', '200:30N·cm, 800:12N·cm', '--need-resolution', '0.02mm', '--need-reversal', '0.05mm']
const wires = 'red-blue: 5.2, red-yellow: 10.3, white-black: 5.2, white-green: 5.1, black-green: 10.5, red-white: open'

const examples: readonly (readonly [string, Name, readonly string[]])[] = [
  ['a drum behind a gear', 'travel', ['--steps-per-rev', '24', '--gears', '17:2', '--drum', 'round 41.78mm']],
  ['three outputs side by side', 'travel', [...motor, '--screw', 'M8', '--belt', '20 GT2', '--rack', '20 module 1mm']],
  ['load and need', 'travel', [...motor, '--train', 'gear 3:1 backlash 0.5deg > screw M8', ...loaded, ...pullOut]],
  ['coil data', 'travel', [...motor, '--rotary', '--coil-resistance', '1.5ohm', '--coil-inductance', '3mH']],
  ['a pointer', 'plan', [...motor, '--length', '100mm', '--both-ways', '--passes', '3']],
  ['a wall', 'plan', [...motor, '--rig', 'mirror', '--distance', '1520 ± 3 mm', '--half-width', '0.1']],
  ['six wires', 'identify', ['--ohm', wires, '--rated-current', '0.5A']],
  ['wires with more to measure', 'identify', ['--ohm', '1-2: 5', '--wires', '1,2,3,4,5,6,7,8']],
  ['a turn', 'identify', ['--commands', '96', '--microsteps', '2', '--turned', '355 ± 5 deg']],
  [
    'torque',
    'identify',
    ['--holding', '0.20..0.22 kg at 100 ± 1 mm', '--detent', '20 g at 4 in', '--friction', '5 g at 10cm'],
  ],
  ['a ladder', 'identify', ['--ladder', '200:0, 400:0, 600:-4, 500:1, 800:0']],
]

describe('what a person sees', () => {
  for (const [title, name, args] of examples)
    it(`${name}, ${title}: fits 80 and 60 columns, plain characters, the same figures as JSON on one line`, () => {
      for (const columns of [80, 60]) {
        const { status, stdout } = run(name, args, columns)
        expect(status).toBe(0)
        expect(stdout).not.toMatch(/[\u001b\r]|NaN|undefined|Infinity/)
        expect(Math.max(...stdout.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(columns)
      }
      const { status, stdout } = run(name, [...args, '--json'])
      expect(status).toBe(0)
      expect(stdout.trimEnd()).not.toContain('\n')
      expect(JSON.parse(stdout).schema).toBe(`stepwitness/${name}@1`)
    })
})

const wrong: readonly (readonly [Name, readonly string[]])[] = [
  ['travel', motor],
  ['travel', ['--screw', 'M8']],
  ['travel', [...motor, '--screw', '3kg']],
  ['travel', ['--steps-per-rev', '0', '--screw', 'M8']],
  ['travel', [...motor, '--screw', 'M8', '--unit', 'kg']],
  ['travel', [...motor, '--screw', 'M8', '--speed', '5mm/s', '--step-rate', '100']],
  ['travel', [...motor, '--screw', 'M8', '--pull-out', '200']],
  ['plan', []],
  ['plan', [...motor, '--rig', 'arm']],
  ['plan', [...motor, '--length', '0mm']],
  ['plan', [...motor, '--turns', '1', '--full-steps', '8']],
  ['identify', []],
  ['identify', ['--ohm', 'red: 5']],
  ['identify', ['--ohm', 'red-blue: 5', '--wires', 'red, green']],
  ['identify', ['--commands', '96']],
  ['identify', ['--ladder', 'fast']],
]

describe('exit status', () => {
  it.each(wrong)('%s %j is wrong usage: 2, nothing on stdout', (name, args) => {
    const { status, stdout } = run(name, args)
    expect([status, stdout]).toEqual([2, ''])
  })

  const unmeasurable: readonly (readonly [Name, readonly string[]])[] = [
    ['travel', ['--screw', 'M8', '--result', join(folder, 'none.json')]],
    ['plan', ['--steps-per-rev', '48', '--microsteps', '4', '--rig', 'mirror', '--full-steps', '12']],
    ['identify', ['--ohm', '1-2: 5, 3-4: 5, 5-6: 5, 1-7: open']],
    ['identify', ['--ladder', '200:0', '--note', join(folder, 'none.md')]],
  ]
  it.each(unmeasurable)('%s %j cannot be done: 1, one sentence', (name, args) => {
    const { status, stdout, stderr } = run(name, args)
    expect([status, stdout]).toEqual([1, ''])
    expect(stderr).toMatch(/^[^\n]+: [^\n]+; [^\n]+\.\n$/)
  })
})

describe('travel of a measured motor', () => {
  const file = join(folder, 'result.json')
  beforeAll(() => {
    const trace = readTrace('# steps-per-rev: 48\n# microsteps: 4\n0\n1.9\n3.7\n5.6\n7.5')
    writeFileSync(file, JSON.stringify(isUnmeasurable(trace) ? null : measure(trace)))
  })

  it('refuses to put what one motor did on a motor of other steps; other microsteps only have no verdict', () => {
    const { status, stdout, stderr } = run('travel', ['--result', file, '--steps-per-rev', '200', '--screw', 'M4'])
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toMatch(/measured on a motor of 48 steps per turn, not 200: leave --steps-per-rev out/)
    expect(run('travel', ['--result', file, '--steps-per-rev', '48', '--microsteps', '8', '--screw', 'M4']).status).toBe(0)
  })
})

describe('identify into a note', () => {
  it('keeps a block for each finding and refreshes it alone', () => {
    const note = join(folder, 'flap.md')
    writeFileSync(note, '# Flap motor\n')
    const put = (...args: readonly string[]) => run('identify', ['--motor', 'flap <b>', '--note', note, ...args]).status
    expect([put('--ladder', '200:0, 400:-4'), put('--ohm', wires), put('--ladder', '200:0, 300:0, 400:-4')]).toEqual([
      0, 0, 0,
    ])
    const text = readFileSync(note, 'utf8')
    expect(text.startsWith('# Flap motor\n\n<!-- stepwitness begin')).toBe(true)
    expect(text.match(/<!-- stepwitness end/g)).toHaveLength(2)
    expect(text).toContain('300 full steps/s; lost steps at 400')
    expect(text).not.toContain('<b>')
  })
})
