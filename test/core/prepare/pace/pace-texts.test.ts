import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import { gcodeText } from '#core/prepare/pace/gcode-text'
import { checkPace, type PaceSetup } from '#core/prepare/pace/pace-setup'
import { scheduleCsv } from '#core/prepare/pace/schedule-csv'
import { marksOf, scheduleOf } from '#core/prepare/pace/schedule-of'
import { sketchText } from '#core/prepare/pace/sketch-text'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { replayGcode, replaySketch } from './interpret.ts'

const setup: PaceSetup = {
  motor: 'flap motor',
  stepsPerRev: 48,
  microsteps: 4,
  commands: 24,
  passes: 2,
  bothWays: true,
  direction: 1,
  settleS: 0.5,
  dwellS: 2,
  runUp: 16,
  rate: 4,
  coolS: 60,
  energisedLimitS: 3600,
}

const setups: readonly (readonly [string, PaceSetup])[] = [
  ['both ways, twice, cooling', setup],
  ['one way, no run-up', { ...setup, bothWays: false, runUp: 0, passes: 1, coolS: 0 }],
  [
    'the other sense, 200 steps, 1/16',
    { ...setup, stepsPerRev: 200, microsteps: 16, commands: 128, direction: -1, passes: 3 },
  ],
  ['24 steps, 1/7: places that no decimal holds', { ...setup, stepsPerRev: 24, microsteps: 7, commands: 168 }],
]

const commanded = (run: PaceSetup) => marksOf(scheduleOf(run)).map(({ command }) => command)

const pathOf = (run: PaceSetup): number[] => {
  const path = [0]
  for (const event of scheduleOf(run)) {
    const to = event.kind === 'run' ? event.to : event.kind === 'mark' ? event.command : null
    for (let at = path.at(-1) ?? 0; to !== null && at !== to; path.push(at)) at += Math.sign(to - at)
  }
  return path
}

describe('the schedule', () => {
  it('marks 0 … K out and K … 0 back in every pass', () => {
    const out = Array.from({ length: 25 }, (_, k) => k)
    expect(commanded(setup)).toEqual([...out, ...out.toReversed(), ...out, ...out.toReversed()])
  })

  it('arrives at the first mark of every pass and return in the direction of travel, run-up commands away', () => {
    const path = pathOf({ ...setup, passes: 1 })
    expect(path.slice(0, 34)).toEqual([
      ...Array.from({ length: 17 }, (_, k) => 0 - k),
      ...Array.from({ length: 17 }, (_, k) => k - 15),
    ])
    expect(Math.max(...path)).toBe(24 + 16)
  })

  it('has the time of one after the other', () => {
    const events = scheduleOf(setup)
    events.slice(1).forEach((event, index) => {
      expect(event.atS).toBeCloseTo((events[index]?.atS ?? 0) + (events[index]?.seconds ?? 0), 9)
    })
  })

  it('refuses to hold one mark for more than a minute, or to go on past the limit without cooling', () => {
    expect(isUnmeasurable(checkPace({ ...setup, dwellS: 61 }))).toBe(true)
    expect(isUnmeasurable(checkPace({ ...setup, passes: 40, coolS: 0 }))).toBe(true)
    expect(checkPace({ ...setup, passes: 40 })).toBeNull()
    expect(() => checkPace({ ...setup, commands: 1.5 })).toThrow(RangeError)
  })

  it('as CSV: a row each, marks in order', () => {
    const rows = scheduleCsv(setup)
      .trim()
      .split('\r\n')
      .slice(1)
      .map((row) => row.split(','))
    expect(rows).toHaveLength(scheduleOf(setup).length)
    expect(rows.filter(([, action]) => action === 'mark').map((row) => Number(row[4]))).toEqual(commanded(setup))
    expect(rows.every((row) => row.length === 7)).toBe(true)
  })
})

describe('G-code, replayed by an interpreter of the tests', () => {
  it.each(setups)('gives the commanded positions exactly: %s', (_, run) => {
    const unit = (run.direction * 360) / run.stepsPerRev / run.microsteps
    const replayed = replayGcode(gcodeText(run, { letter: 'A', unitsPerTurn: 360 }), unit)
    expect(replayed.marks).toEqual(commanded(run))
    expect(replayed.path).toEqual(pathOf(run))
  })

  it('on a linear axis of 1.25 mm a turn too', () => {
    const replayed = replayGcode(gcodeText(setup, { letter: 'X', unitsPerTurn: 1.25 }), 1.25 / 192)
    expect(replayed.marks).toEqual(commanded(setup))
  })

  it('cannot be given commands through a name', () => {
    const text = gcodeText({ ...setup, motor: 'x)\nG1 A999 F9 (\r\n%' }, { letter: 'A', unitsPerTurn: 360 })
    expect(replayGcode(text, 1.875).marks).toEqual(commanded(setup))
    expect(() => gcodeText(setup, { letter: 'G', unitsPerTurn: 360 })).toThrow(RangeError)
  })
})

const folder = mkdtempSync(join(tmpdir(), 'sketch-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const compiler = spawnSync('g++', ['--version']).status === 0

const stub = `#include <cstdio>
#define HIGH 1
#define LOW 0
#define OUTPUT 1
#define INPUT_PULLUP 2
static int level[64], asked = 0;
static long stubAt = 0;
static unsigned long clockMs = 0;
static void pinMode(int, int) {}
static int digitalRead(int) { return asked++ == 0 ? HIGH : asked == 2 ? LOW : HIGH; }
static void delay(unsigned long ms) { clockMs += ms; }
static void delayMicroseconds(unsigned long) {}
static void digitalWrite(int pin, int value) {
  if (pin == STUB_STEP && value == HIGH && level[pin] == LOW) {
    if (level[STUB_ENABLE] != LOW) std::printf("pulse without current\\n");
    stubAt += level[STUB_DIRECTION] == STUB_FORWARD ? 1 : -1;
    std::printf("s%ld\\n", stubAt);
  }
  if (pin == STUB_LIGHT && value == HIGH) std::printf("m%ld\\n", stubAt);
  level[pin] = value;
}
`

/** Compiles a sketch with a stub of the board's functions, runs it, and lists pulses and marks. */
const compileAndRun = (name: string, run: PaceSetup) => {
  const pins = '#define STUB_STEP 3\n#define STUB_DIRECTION 4\n#define STUB_ENABLE 5\n#define STUB_LIGHT 13\n'
  const source = `${pins}#define STUB_FORWARD ${run.direction > 0 ? 1 : 0}\n${stub}${sketchText(run)}\nint main() { setup(); loop(); return 0; }\n`
  writeFileSync(join(folder, `${name}.cpp`), source)
  const built = spawnSync(
    'g++',
    ['-std=c++11', '-Wall', '-Wextra', '-Werror', '-o', join(folder, name), join(folder, `${name}.cpp`)],
    { encoding: 'utf8' },
  )
  const output = spawnSync(join(folder, name), { encoding: 'utf8', maxBuffer: 1e8 }).stdout.trim().split('\n')
  const numbers = (letter: string) =>
    output.filter((line) => line.startsWith(letter)).map((line) => Number(line.slice(1)))
  return {
    complaints: built.stderr,
    path: [0, ...numbers('s')],
    marks: numbers('m'),
    other: output.filter((line) => !/^[sm]-?\d+$/.test(line)),
  }
}

describe('C++ sketch', () => {
  it.each(setups)('its table of legs gives the commanded positions exactly: %s', (_, run) => {
    const replayed = replaySketch(sketchText(run))
    expect(replayed.marks).toEqual(commanded(run))
    expect(replayed.path).toEqual(pathOf(run))
  })

  it.skipIf(!compiler).each(setups.map(([title, run], index) => [title, `run${index}`, run] as const))(
    'compiles without a warning and pulses exactly so: %s',
    (_, name, run) => {
      const { complaints, path, marks, other } = compileAndRun(name, run)
      expect(complaints).toBe('')
      expect(other).toEqual([])
      expect(path).toEqual(pathOf(run))
      expect(marks).toEqual(commanded(run))
    },
  )

  it.skipIf(!compiler)('compiles with a hostile name', () => {
    const { complaints, marks } = compileAndRun('hostile', {
      ...setup,
      motor: 'x\nint y = "\\\n??/\u2028*/ #define HIGH',
    })
    expect(complaints).toBe('')
    expect(marks).toEqual(commanded(setup))
  })
})

describe('any run', () => {
  it('is the same as G-code, sketch and schedule', () => {
    const arbitrary = fc.record({
      stepsPerRev: fc.constantFrom(20, 24, 48, 96, 200, 400),
      microsteps: fc.integer({ min: 1, max: 64 }),
      commands: fc.integer({ min: 1, max: 80 }),
      passes: fc.integer({ min: 1, max: 3 }),
      runUp: fc.integer({ min: 0, max: 20 }),
      bothWays: fc.boolean(),
      direction: fc.constantFrom(1 as const, -1 as const),
      coolS: fc.constantFrom(0, 30),
    })
    fc.assert(
      fc.property(arbitrary, (part) => {
        const run = { ...setup, ...part }
        const unit = (run.direction * 360) / run.stepsPerRev / run.microsteps
        const wanted = { path: pathOf(run), marks: commanded(run) }
        expect(replayGcode(gcodeText(run, { letter: 'A', unitsPerTurn: 360 }), unit)).toEqual(wanted)
        expect(replaySketch(sketchText(run))).toEqual(wanted)
      }),
      { numRuns: 60, seed: 5 },
    )
  })
})
