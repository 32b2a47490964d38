import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { fuzzTarget } from '../../scripts/fuzz/fuzz-target.ts'
import { bytesOf } from '../../scripts/fuzz/target.ts'
import { targets } from '../../scripts/fuzz/targets.ts'

const all = await targets()
const seed = 11

/** Inputs of the short part: enough to reach every branch that a slip of the finger reaches, within a few seconds. */
const inputs: Readonly<Record<string, number>> = { trace: 3000, measure: 400, result: 400, note: 1500, payload: 3000, words: 1500, photo: 150 }

describe('changed inputs are taken or refused, never thrown on, and keep each parser’s promises', () => {
  for (const target of all)
    it(target.name, async () => {
      const { failures, hung, mostMemoryMiB, taken } = await fuzzTarget(target, { seed, inputs: inputs[target.name] ?? 100 })
      expect({ failures, hung }).toEqual({ failures: [], hung: [] })
      expect(mostMemoryMiB).toBeLessThan(1024)
      // Changes so small that some inputs still pass; else only the refusal would be tried.
      expect(taken).toBeGreaterThan(0)
    })
})

const field = fc.oneof(fc.double().map(String), fc.integer().map(String), fc.string({ unit: 'binary', maxLength: 8 }), fc.constantFrom('', '+', '-', '1,5', '∞', '−1', '"', '=1'))
const separator = fc.constantFrom(',', ';', '\t')
const key = fc.constantFrom('motor', 'steps-per-rev', 'microsteps', 'rig', 'position-unit', 'radius', 'distance', 'foot', 'ratio', 'gears', 'mark-uncertainty', 'commands', 'full-step-command', 'order', 'shared-uncertainty', 'constructor', '__proto__')
const traceText = fc
  .record({ head: fc.array(fc.tuple(key, field)), columns: fc.subarray(['position', 'command', 'tally', 'pass', 'direction', 'note', 'uncertainty', 'confidence', 'multiplicity']), rows: fc.array(fc.array(field, { maxLength: 9 }), { maxLength: 12 }), sep: separator, end: fc.constantFrom('\n', '\r\n', '\r') })
  .map(({ head, columns, rows, sep, end }) => [...head.map(([name, value]) => `# ${name}: ${value}`), columns.join(sep), ...rows.map((row) => row.join(sep))].join(end))

describe('inputs made up from scratch', () => {
  it('built like a trace file', () => {
    const [trace, whole] = ['trace', 'measure'].map((name) => all.find((target) => target.name === name))
    fc.assert(fc.property(traceText, (text) => { trace?.run(bytesOf(text)); whole?.run(bytesOf(text)) }), { seed, numRuns: 2000 })
  })

  it('of any bytes, for every parser', async () => {
    for (const target of all) await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 200 }), async (bytes) => { await target.run(bytes) }), { seed, numRuns: 200 })
  })

  it('of any JSON, as a result', () => {
    const result = all.find(({ name }) => name === 'result')
    fc.assert(fc.property(fc.json(), (text) => { result?.run(bytesOf(text)) }), { seed, numRuns: 500 })
  })
})

// Each of these once took minutes, or gave numbers no document can hold.
describe('found by changed inputs', () => {
  const head = '# steps-per-rev: 48\n# microsteps: 4\n# mark-uncertainty: 0.1 deg\n'
  const evenly = Array.from({ length: 49 }, (_, k) => (1.875 * k + 0.2 * Math.sin(k)).toFixed(2)).join('\n')
  it.each([
    ['a command number with too many nines', `${head}position,command\n0,0\n1.9,1\n3.7,2\n5,9999999\n`],
    ['one beyond every whole number', `${head}position,command\n0,0\n1.9,1\n3.7,2\n5,99999999999999999999999999\n`],
    ['a tally likewise', `${head}position,tally\n0,0\n1.9,1\n3.7,1\n5,9999999\n`],
    ['more commands stated than the marks could hold', `${head}# commands: 9000000\n0\n1.9\n3.7\n8\n`],
    ['more commands stated than the span could hold', `${head}# commands: 4900\n${evenly}\n`],
    ['a position with its point forgotten', '# steps-per-rev: 24\n# microsteps: 2\n# rig: arc\n# radius: 80 mm\n0\n7.75\n15423685\n22.54\n29.77\n44.92\n52.7\n60.3\n67.62\n74.84\n82.2\n15423700\n'],
    ['gears with too many nines', `${head}# gears: 17:99999999999999999999999\n${evenly}\n`],
  ])('%s is refused', (_, text) => {
    const trace = readTrace(text)
    expect(isUnmeasurable(trace) ? trace : measure(trace)).toMatchObject({ kind: 'unmeasurable' })
  })

  it('a position far out among the others is measured or refused', () => {
    const positions = [0, 77.5, 152.7, 225.4, 2971, 449.2, 527, 603, 676.2, 748.4, 822, 898.4]
    for (const far of [2971, -2971, 1e8, -1e8]) {
      const trace = readTrace(`# steps-per-rev: 24\n# microsteps: 2\n${positions.map((each) => (each === 2971 ? far : each)).join('\n')}\n`)
      if (!isUnmeasurable(trace)) measure(trace, { cause: false })
    }
  })
})
