import { describe, expect, it } from 'vitest'
import { decodeText } from '#core/ingest/decode-text'
import { readTrace } from '#core/ingest/read-trace'
import type { Trace } from '#core/ingest/trace'
import { locate } from '#core/rig/locate'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'

const motor = { stepsPerRev: 48, microsteps: 4 }

const read = (text: string): Trace => {
  const trace = readTrace(text, motor)
  if (isUnmeasurable(trace)) throw new Error(sentenceOf(trace))
  return trace
}

const refusal = (text: string, options = motor): string => {
  const trace = readTrace(text, options)
  return isUnmeasurable(trace) ? sentenceOf(trace) : `read ${trace.marks.length} marks`
}

describe('readTrace', () => {
  it('reads the worked example of the trace format', () => {
    const text = `# motor: rail-2
# steps-per-rev: 48
# microsteps: 4
# rig: pointer                # pointer | arc | chord | mirror
# position-unit: deg          # deg | arcmin | rad | mm | in
# mark-uncertainty: 0.1 deg   # standard uncertainty, at the mark
position,command,tally,pass,direction,note
0.00,0
1.91,1
3.7,2,,1,+,faint
`
    const trace = read(text)
    expect(trace.motor).toEqual({ name: 'rail-2', stepsPerRev: 48, microsteps: 4 })
    expect(trace.rig).toEqual({ kind: 'pointer', radiusMm: null })
    expect(trace.markUncertainty).toEqual({ value: 0.1, unit: 'deg' })
    expect(trace.marks.map(({ position, command, line }) => [position, command, line])).toEqual([[0, 0, 8], [1.91, 1, 9], [3.7, 2, 10]])
    expect(trace.marks[2]).toMatchObject({ note: 'faint', direction: 1, pass: 1 })
  })

  it('reads the same marks whatever the line ending, separator, byte-order mark or decimal comma', () => {
    const plain = read('position,command\n0,0\n1.9,1\n3.8,2\n').marks.map(({ position, command }) => [position, command])
    const spellings = [
      '\uFEFFposition,command\r\n0,0\r\n1.9,1\r\n3.8,2',
      'position;command\r0;0\r1,9;1\r3,8;2',
      'position\tcommand\n0\t0\n1,9\t1\n\n3.8\t2\n',
      'command,position\n0,0\n1,1.9\n2,3.8',
    ]
    for (const text of spellings) expect(read(text).marks.map(({ position, command }) => [position, command])).toEqual(plain)
  })

  it('takes a bare list of numbers, one per line, as a trace', () => {
    expect(read('0\n1.9\n−3.8\n').marks.map((mark) => mark.position)).toEqual([0, 1.9, -3.8])
  })

  it('lets options win over the file', () => {
    const trace = readTrace('# microsteps: 8\n0\n1\n2', { ...motor, microsteps: 2 })
    expect(trace.kind === 'trace' && trace.motor.microsteps).toBe(2)
  })

  it('reads a decimal comma in the head, as in the rows', () => {
    const trace = read('# rig: arc\n# radius: 80,5 ± 0,25 mm\n# position-unit: mm\n# mark-uncertainty: 0,2 mm\nposition;command\n0,5;0\n5,25;1\n10;2')
    expect(trace.rig).toEqual({ kind: 'arc', radiusMm: { value: 80.5, u: 0.25 } })
    expect(trace.markUncertainty).toEqual({ value: 0.2, unit: 'mm' })
  })

  it('reads lengths with their uncertainty, in mm or inch', () => {
    const trace = read('# rig: arc\n# radius: 3.15 in ± 0.5 mm\n# position-unit: mm\n0\n5\n10')
    expect(trace.rig).toEqual({ kind: 'arc', radiusMm: { value: 3.15 * 25.4, u: 0.5 } })
  })

  it('reads units in plain words', () => {
    for (const word of ['deg', 'Degrees', 'degree', '°']) expect(read(`# position-unit: ${word}\n0\n1\n2`).unit).toBe('deg')
    const inches = read('# rig: arc\n# radius: 2 inches ± 2 millimetres\n# position-unit: inch\n# mark-uncertainty: 0.2 millimeter\n0\n0.1\n0.2')
    expect(inches).toMatchObject({ unit: 'in', rig: { radiusMm: { value: 50.8, u: 2 } }, markUncertainty: { value: 0.2, unit: 'mm' } })
    expect(read('# mark-uncertainty: 0.1°\n0\n1\n2').markUncertainty).toEqual({ value: 0.1, unit: 'deg' })
  })

  it('reads the same angles from centimetres as from millimetres', () => {
    const angles = (unit: string, marks: string): readonly number[] => {
      const located = locate(read(`# rig: arc\n# radius: 80 mm\n# position-unit: ${unit}\n${marks}`))
      return isUnmeasurable(located) ? [] : located.marks.map(({ angleDeg }) => angleDeg)
    }
    expect(angles('cm', '0\n0.5\n1')).toEqual(angles('mm', '0\n5\n10'))
    expect(angles('cm', '0\n0.5\n1')).toHaveLength(3)
  })

  it('keeps quoted notes with separators in them', () => {
    expect(read('position,command,note\n0,0,"a, b"\n1,1,""\n2,2,x').marks[0]?.note).toBe('a, b')
  })

  it('warns of keys and columns it does not read', () => {
    expect(read('# microstep: 4\nposition,colour\n0,red\n1,red\n2,blue').warnings).toHaveLength(2)
  })
})

describe('what cannot be read names the line and the cure', () => {
  const cases: readonly (readonly [name: string, text: string, expected: RegExp])[] = [
    ['empty', '', /empty; give one mark position per line/],
    ['only a head', '# motor: x\n', /no marks/],
    ['no numbers', 'some words\nmore words\n', /no column is named position/],
    ['not a number', 'position\n0\nNaN\n2', /line 3: position "NaN" is not a finite number/],
    ['infinity', '0\n1\nInfinity', /line 3: position "Infinity"/],
    ['too large for a double', '0\n1\n1e999', /line 3/],
    ['one mark', '5', /only one mark/],
    ['all at one place', '5\n5\n5', /every mark stands at the same place/],
    ['a command twice', 'position,command\n0,0\n1,1\n2,1', /line 4: command 1 stands on line 3 and again here/],
    ['half a command', 'position,command\n0,0\n1,1.5', /line 3: command "1.5" is not a whole number/],
    ['a negative tally', 'position,tally\n0,0\n1,-2', /line 3: tally/],
    ['zero steps', '# steps-per-rev: 0\n0\n1\n2', /line 1: steps-per-rev must be a whole number/],
    ['negative microsteps', '# microsteps: -4\n0\n1\n2', /line 1: microsteps must be a whole number/],
    ['an unknown unit', '# position-unit: furlong\n0\n1\n2', /line 1: position-unit must be one of deg, arcmin, rad, mm, cm, in/],
    ['a unit that may be two', '# position-unit: "\n0\n1\n2', /line 1: position-unit must be one of/],
    ['a radius in what is no length', '# rig: arc\n# radius: 80 kg\n0\n1\n2', /line 2: radius must be a length/],
    ['a strip’s photo without a scale', '# rig: mirror\n# position-unit: px\n0\n1\n2', /line 2: the positions are px of a photo.*--scale.*--tick.*ruler/],
    ['a length unit on a pointer', '# position-unit: mm\n0\n1\n2', /rig pointer cannot have positions in mm/],
    ['a radius that is none', '# rig: arc\n# radius: far\n0\n1\n2', /line 2: radius must be a length/],
    ['a radius that could be thousands', '# rig: arc\n# radius: 1,520 mm\n0\n1\n2', /line 2: radius must be a length/],
    ['a mark’s millimetres at a pointer of unknown radius', '# mark-uncertainty: 0.2 mm\n0\n1\n2', /mark-uncertainty of 0.2 mm is no angle without the radius.*--radius to the command, or give it in deg/],
    ['a pen’s millimetres there', '# line-width: 0.5 mm\n0\n1\n2', /line-width of 0.5 mm/],
    ['an arc without radius', '# rig: arc\n0\n1\n2', /rig arc needs a radius/],
    ['a decimal comma without another separator', '0,5\n1,5\n2,5', /line 1: several fields.*a point where the comma is a decimal one/],
    ['spaces between the fields', '0 0.02\n1 1.9\n2 3.7', /line 1: fields stand apart by spaces; set them apart by a comma/],
    ['names with spaces between them', 'command position\n0 0.02', /line 1: fields stand apart by spaces/],
    ['columns by other names', 'Step,Angle (deg)\n0,0\n1,1.9', /line 1: no column is named position, only "Step", "Angle \(deg\)"; name .* "position", and .* "command"/],
    ['one column by another name', 'command;Angle [°]\n0;0,1', /only "command", "Angle \[°\]"; name the column that holds the marks "position"\.$/],
    ['prose', 'Everything here is simulated, no real motor was measured and no real photo was taken\n', /line 1: there are sentences where the positions of marks are expected/],
    ['a remark without #', 'my test\nposition\n0\n1', /"my test" is no mark;.*begin a remark with #/],
    ['a unit in a bare list', '0.10°\n1.90°', /line 1: position "0.10°" holds more than a number/],
    ['a unit in every field', 'position\n0.1 mm\n2.4 mm', /line 2: position "0.1 mm" holds more than a number.*# position-unit: mm/],
    ['two runs in one file', 'position,command\n0,0\n1,1\nposition,command\n0,0', /line 4: the columns are named again.*a file of its own/],
    ['more fields than columns', 'position,command\n0,0\n1,9,1', /line 3: there are 3 fields for 2 columns/],
  ]
  for (const [name, text, expected] of cases) it(name, () => expect(refusal(text)).toMatch(expected))

  it('asks for the motor when nobody named it', () => {
    expect(isUnmeasurable(readTrace('0\n1\n2')) && sentenceOf(readTrace('0\n1\n2') as never)).toMatch(/steps-per-rev and microsteps/)
  })
  it('names the keys that may have been meant', () => {
    const trace = readTrace('# steps-per-revolution: 48\n# microstep: 4\n0\n1\n2')
    expect(isUnmeasurable(trace) && sentenceOf(trace)).toMatch(/does not say steps-per-rev and microsteps \("steps-per-revolution" on line 1, "microstep" on line 2 are not read\); add "# steps-per-rev/)
  })
})

describe('decodeText', () => {
  const encode = (text: string): Uint8Array => new TextEncoder().encode(text)
  it('strips the byte-order mark', () => expect(decodeText(encode('\uFEFF1\n2'), 'a.csv')).toBe('1\n2'))
  const utf16 = (text: string): readonly Uint8Array[] => {
    const little = new Uint8Array(new Uint16Array([...text].map((c) => c.charCodeAt(0))).buffer)
    return [little, little.map((_, i) => little[i ^ 1] as number)]
  }
  it('reads UTF-16 either way round where its byte-order mark says so, as spreadsheets save it', () => {
    for (const bytes of utf16('\uFEFF# motor: Klappe µ\r\nposition\tcommand\r\n0,5\t0\r\n2,4\t1\r\n4,2\t2\r\n')) {
      const text = decodeText(bytes, 'a.txt')
      expect(text).toBe('# motor: Klappe µ\r\nposition\tcommand\r\n0,5\t0\r\n2,4\t1\r\n4,2\t2\r\n')
      expect(read(String(text)).marks.map(({ position }) => position)).toEqual([0.5, 2.4, 4.2])
    }
  })
  it('refuses UTF-16 without the mark, and what breaks off within a letter', () => {
    for (const bytes of utf16('1\n2\n3')) expect(decodeText(bytes, 'a.csv')).toMatchObject({ kind: 'unmeasurable', what: 'the text is UTF-16 without a byte-order mark' })
    for (const bytes of utf16('\uFEFF1\n2\n3')) expect(decodeText(bytes.slice(0, -1), 'a.csv')).toMatchObject({ kind: 'unmeasurable', what: 'the file is not UTF-16 text' })
  })
  it('refuses Latin-1 and binary data', () => {
    expect(decodeText(new Uint8Array([0x31, 0xb5, 0x0a]), 'a.csv')).toMatchObject({ kind: 'unmeasurable' })
    expect(decodeText(new Uint8Array([0x31, 0x32, 0x01, 0x02, 0x03]), 'a.csv')).toMatchObject({ kind: 'unmeasurable' })
  })
})

it('set-up keys are read with underscores too', () => expect(readTrace('# steps_per_rev: 48\n# microsteps: 4\n0\n1.9\n3.8')).toMatchObject({ motor: { stepsPerRev: 48, microsteps: 4 } }))

describe('a row typed twice', () => {
  const read = (rows: readonly string[]) => readTrace(['# steps-per-rev: 48', '# microsteps: 4', 'position,command', ...rows].join('\n'))
  it('alike in every number counts once, and is said', () => {
    const trace = read(['0,0', '1.9,1', '1.9,1', '3.8,2'])
    expect(trace).toMatchObject({ marks: [{ command: 0 }, { command: 1 }, { command: 2 }], warnings: [expect.stringMatching(/^Line 6 says the same/)] })
  })
  it('with another position is asked about', () => expect(read(['0,0', '1.9,1', '2.0,1', '3.8,2'])).toMatchObject({ what: expect.stringContaining('command 1 stands on line 5') }))
})
