import { describe, expect, it } from 'vitest'
import type { DetectedMark, Detection } from '#core/detect/detection'
import { readTrace } from '#core/ingest/read-trace'
import { traceFromDetection } from '#core/ingest/trace-from-detection'
import { marksCsv, traceCsvFromDetection } from '#core/report/marks-csv'
import { guarded, typedNumber } from '#core/report/trace-text'
import { measuredTrace, simulatedTrace, sixteen, threeOfFour, traceOf } from './measured.ts'

const full = `# motor: rail "2" # spare, µ
# steps-per-rev: 48
# microsteps: 2
# rig: arc
# position-unit: in
# radius: 3.15 ± 0.02 in
# gears: 17:8, 40:10
# mark-uncertainty: 0.01 in
# full-step-command: 1
position;tally;pass;direction;note;uncertainty
0,000;0;1;+;start, "here";
0,020;1;1;+;=1+1;0,02
0,0410;1;1;+;-2;
0,060;2;1;+;@x;
0,0805;1;1;+;;
`

const cases = {
  'numbered commands': sixteen,
  'bare positions, a closed turn': threeOfFour,
  'a hybrid in sixteenths': simulatedTrace({ stepsPerRev: 200, microsteps: 16, commands: 320, uDeg: 0.012, motor: { detent4: 0.1 } }),
  'gears, inches, tallies, notes and commas': full,
  'travel downwards': '# steps-per-rev: 24\n# microsteps: 4\nposition\n0\n-3.7\n-7.6\n-11.3\n-15.0\n-18.8\n-22.4\n-26.3\n-30.1\n',
  'exponents': '# steps-per-rev: 24\n# microsteps: 1\n# rig: arc\n# radius: 5000 mm\nposition,command\n0,0\n1.3e3,1\n2.6e3,2\n3.9e3,3\n5.2e3,4\n',
}

describe('marks.csv measured again gives the same document', () => {
  for (const [name, text] of Object.entries(cases))
    it(name, () => {
      const trace = traceOf(text)
      const again = traceOf(marksCsv(trace))
      expect(measuredTrace(again)).toEqual(measuredTrace(trace))
    })

  it('and written again it is the same text', () => {
    for (const text of Object.values(cases)) {
      const once = marksCsv(traceOf(text))
      expect(marksCsv(traceOf(once))).toBe(once)
    }
  })
})

// Common practice for CSV that a spreadsheet may open (OWASP, CSV injection): no cell of text starts a formula.
describe('notes shown as text', () => {
  it('get an apostrophe before what would start a formula, once', () => {
    expect(guarded('=HYPERLINK("x")')).toBe(`'=HYPERLINK("x")`)
    expect(guarded(guarded('+1'))).toBe(`'+1`)
    expect(guarded('\t@a')).toBe(`'@a`)
    expect(guarded('tip bent')).toBe('tip bent')
  })

  it('stay on their line', () => {
    expect(guarded('a\r\n# steps-per-rev: 1')).toBe('a # steps-per-rev: 1')
  })

  it('are guarded in the file', () => {
    expect(marksCsv(traceOf(full))).toMatch(/,'=1\+1,/)
  })
})

describe('numbers as typed', () => {
  it('keep the last digit of their column', () => {
    expect(typedNumber(1.9, 0.01)).toBe('1.90')
    expect(typedNumber(1300, 100)).toBe('13e2')
    expect(typedNumber(0.1 + 0.2, 0)).toBe('0.30000000000000004')
  })

  it('never lose what was there', () => {
    expect(Number(typedNumber(1.2345, 0.01))).toBe(1.2345)
  })
})

const mark = (angleDeg: number): DetectedMark => ({ angleDeg, uDeg: 0.06, uOwnDeg: 0.05, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: [0, 0], p1: [1, 1], widthPx: 4, confidence: 0.93, multiplicity: 1 })

/** A photo's marks as a detection would give them: simulated, sorted by angle, the turn starting somewhere within. */
const detection = (marks: readonly DetectedMark[]): Detection => ({
  kind: 'detection',
  rig: 'pointer',
  widthPx: 4000,
  heightPx: 3000,
  centrePx: [2000, 1500],
  centreCovariancePx: [0.1, 0, 0.1],
  centreUDeg: 0,
  rectifiedBy: 'paper',
  rectificationUDeg: 0,
  pixelsPerMm: 12,
  cornersPx: null,
  marks,
  refused: [],
  sheet: null,
  doubts: [],
})

const arc = Array.from({ length: 13 }, (_, k) => (330 + 3.75 * k + 0.4 * Math.sin(k * 1.7)) % 360).toSorted((a, b) => a - b)
const setUp = { stepsPerRev: 24, microsteps: 4, motor: 'heater flap' } as const

describe('marks of a photo', () => {
  const found = detection(arc.map(mark))

  it('keep that they have no order of their own and what they share, so that they measure the same', () => {
    const trace = traceFromDetection({ ...found, centreUDeg: 0.013, rectificationUDeg: 0.02 }, setUp)
    if (trace.kind !== 'trace') throw new Error(trace.what)
    const again = traceOf(marksCsv(trace))
    expect(again).toMatchObject({ ordered: false, common: [{ source: 'centre', uDeg: 0.013 }, { source: 'rectification', uDeg: 0.02 }] })
    const [photo, typed] = [measuredTrace(trace), measuredTrace(again)]
    expect(typed.rests).toEqual(photo.rests)
    expect(typed.figures).toEqual(photo.figures)
    expect(typed.modes).toEqual(photo.modes)
    expect(typed.uncertainty).toEqual(photo.uncertainty)
  })

  it('as detected carry uncertainty, confidence and multiplicity, and are a trace', () => {
    const csv = traceCsvFromDetection(found, setUp)
    expect(csv).toContain('position,command,tally,pass,direction,note,uncertainty,confidence,multiplicity')
    expect(csv).toContain('# rig: pointer\n# position-unit: deg\n')
    const trace = traceOf(csv)
    expect(trace.marks.map(({ position }) => position)).toEqual(arc)
    expect(trace.marks[0]?.u).toBe(0.05)
  })

  it('take the set-up from the printed sheet where nothing else was said', () => {
    const sheet = { sheetVersion: 1, motor: 'from the sheet', stepsPerRev: 48, microsteps: 8, rig: 'pointer' as const, lengthMm: 80 }
    const csv = traceCsvFromDetection({ ...found, sheet }, { microsteps: 4 })
    expect(csv).toContain('# motor: from the sheet\n# steps-per-rev: 48\n# microsteps: 4\n')
    expect(csv).toContain('# radius: 80 mm')
  })

  it('name the doubtful ones without becoming a set-up line', () => {
    const csv = traceCsvFromDetection({ ...found, marks: found.marks.map((each, i) => ({ ...each, confidence: i === 2 ? 0.3 : 0.9 })) }, setUp)
    expect(csv).toMatch(/^# doubtful, .*: 3$/m)
    expect(traceOf(csv).warnings).toEqual([])
  })

  it('on a strip without a scale are refused by the reader, not taken for mm', () => {
    const strip = { ...found, rig: 'mirror' as const, marks: arc.map((angle) => ({ ...mark(angle), angleDeg: null, uDeg: null, uOwnDeg: null, positionPx: angle * 10, uPosition: 0.4, uOwnPosition: 0.3 })) }
    const outcome = readTrace(traceCsvFromDetection(strip, setUp))
    expect(outcome).toMatchObject({ kind: 'unmeasurable' })
  })
})
