import { decodeText } from '#core/ingest/decode-text'
import { readTrace } from '#core/ingest/read-trace'
import type { Trace } from '#core/ingest/trace'
import { traceSchema } from '#core/ingest/trace-schema'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { marksCsv } from '#core/report/marks-csv'
import { resultSchema } from '#core/report/result-schema'
import { broken, bytesOf, type Target } from './target.ts'

const head = '# motor: flap-1\n# steps-per-rev: 24\n# microsteps: 2\n'
const marks = Array.from({ length: 13 }, (_, k) => 7.5 * k + 0.3 * Math.sin(k))
const corpus = [
  `${head}${marks.map((mark) => mark.toFixed(2)).join('\n')}\n`,
  `${head}position,command,note\n${marks.map((mark, k) => `${mark.toFixed(2)},${k},"a, b"`).join('\n')}\n`,
  `\uFEFF${head}# rig: arc\r\n# position-unit: mm\r\n# radius: 80 ± 0.5 mm\r\n# gears: 17:8, 40:10\r\nposition;tally;pass;direction\r\n${marks.map((mark) => `${mark.toFixed(2).replace('.', ',')};1;1;+`).join('\r\n')}`,
  `${head}# rig: mirror\n# distance: 1520 mm\n# foot: 210 mm\n# ratio: 2\n# mark-uncertainty: 0.1 deg\n# commands: 12\n# full-step-command: 2\nposition\tuncertainty\n${marks.map((mark) => `${(10 * mark).toFixed(1)}\t0.2`).join('\n')}`,
  `${head}# order: none\n# shared-uncertainty: centre 0.013 deg, rectification 0.02 deg\n${marks.map(String).join('\n')}`,
].map(bytesOf)

const read = (input: Uint8Array): Trace | null => {
  const text = decodeText(input, 'input')
  const trace = typeof text === 'string' ? readTrace(text) : text
  return isUnmeasurable(trace) ? null : trace
}

/** Bytes → trace: no throw, and whatever is taken fits the published schema. */
export const traceTarget: Target = {
  name: 'trace',
  corpus,
  run: (input) => {
    const trace = read(input)
    if (trace && !traceSchema.safeParse(trace).success) broken('a trace fits its schema')
    return trace !== null
  },
}

/** Bytes → trace → figures: a document without NaN that fits its schema, and marks.csv that is read again. */
export const measureTarget: Target = {
  name: 'measure',
  corpus,
  run: (input) => {
    const trace = read(input)
    if (!trace || trace.marks.length > 100) return false
    const result = measure(trace, { cause: false })
    if (isUnmeasurable(result)) return false
    if (!resultSchema.safeParse(result).success) broken('a result fits its schema (no NaN, no infinity)')
    if (isUnmeasurable(readTrace(marksCsv(trace)))) broken('marks.csv is read again')
    return true
  },
}
