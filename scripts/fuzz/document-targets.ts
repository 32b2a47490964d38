import { measure } from '#core/measure'
import { readTrace } from '#core/ingest/read-trace'
import { encodePayload, decodePayload } from '#core/detect/sheet/payload'
import { readTrain } from '#core/decide/drive/read-train'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { readQuantity } from '#core/quantity/read-quantity'
import { noteBlock } from '#core/report/note/note-block'
import { noteIndex } from '#core/report/note/note-index'
import { blocksIn } from '#core/report/note/note-markers'
import { placeBlock } from '#core/report/note/place-block'
import { readNeed } from '#core/report/note/read-need'
import { evidenceSchema } from '#core/report/replay/evidence-schema'
import { reportHtml } from '#core/report/html/report-html'
import { type Result, resultSchema } from '#core/report/result-schema'
import { summaryText } from '#core/report/summary-text'
import { broken, bytesOf, type Target, textOf } from './target.ts'
import { traceTarget } from './trace-targets.ts'

const sample = (): Result => {
  const trace = readTrace(textOf(traceTarget.corpus[1] ?? new Uint8Array()))
  const result = isUnmeasurable(trace) ? trace : measure(trace, { cause: false })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return result
}

const parsed = (input: Uint8Array): unknown => {
  try {
    return JSON.parse(textOf(input))
  } catch {
    return null
  }
}

/** Whatever passes as a result document can be shown: text, note, report. */
export const resultTarget = (): Target => {
  const result = sample()
  return {
    name: 'result',
    corpus: [bytesOf(JSON.stringify(result))],
    run: (input) => {
      const read = resultSchema.safeParse(parsed(input))
      evidenceSchema.safeParse(parsed(input))
      if (!read.success) return false
      const shown = [summaryText(read.data), noteBlock(read.data).join('\n'), reportHtml(read.data, { plotlyScript: '', sha256Base64: () => '', figures: [], overlayPng: null })]
      if (shown.some((text) => text.includes('NaN') && !textOf(input).includes('NaN'))) broken('no NaN is shown')
      return true
    },
  }
}

/** A block goes in and comes out, every character outside it as it was, or the note is refused; its index is read without a throw. */
export const noteTarget = (): Target => {
  const block = noteBlock(sample())
  const note = placeBlock('---\npart: flap-1\nfound in: heater\n---\n\n# Motor\r\n\r\nmine\r\n', 'flap', block)
  return {
    name: 'note',
    corpus: [bytesOf(String(note)), bytesOf('# Motor\n\n<!-- stepwitness begin a -->\n\n<!-- stepwitness end a -->\n')],
    run: (input) => {
      const text = textOf(input)
      noteIndex([{ path: 'a.md', text }])
      const placed = placeBlock(text, 'fuzz', block)
      if (isUnmeasurable(placed)) return false
      const [places, before] = [blocksIn(placed), blocksIn(text)]
      if (isUnmeasurable(places) || isUnmeasurable(before)) return broken('a note with a block put in is a sound note')
      const [place, was] = [places, before].map((each) => each.find(({ key }) => key === 'fuzz'))
      if (!place) return broken('the block is there')
      const outside = was ? text.slice(0, was.start) + text.slice(was.end) : text
      if (!(placed.slice(0, place.start) + placed.slice(place.end)).startsWith(was ? outside : text)) broken('every character outside the block is as it was')
      if (placeBlock(placed, 'fuzz', block) !== placed) broken('put in again it changes nothing')
      return true
    },
  }
}

const payload = { version: 1, rig: 'pointer', paper: 'a4', page: 0, pages: 1, lengthMm: 80, stepsPerRev: 48, microsteps: 4, barMm: 100, motor: 'flap-1' } as const

/** A code's text: what is taken is written again as it was read. */
export const payloadTarget: Target = {
  name: 'payload',
  corpus: [payload, { ...payload, rig: 'mirror', paper: 'letter', stepsPerRev: null, microsteps: null, motor: 'Prüfling “2”', pages: 3, page: 2 } as const].map((each) => bytesOf(encodePayload(each))),
  run: (input) => {
    const code = decodePayload(textOf(input))
    if ('why' in code) return false
    const again = decodePayload(encodePayload(code))
    if (JSON.stringify(again) !== JSON.stringify(code)) broken('a code is written again as it was read')
    return true
  },
}

const words = ['gear 17:2 backlash 0.5deg > screw M4 efficiency 30%', 'belt 20 GT2', 'drum round 41.78mm', 'rack 20 module 1mm', '0.05 mm on a 1 mm screw', '80 ± 0.5 mm', '2.5kg·cm', '1e-3 in', '300mm/min']

/** Words a person types: trains, needs, lengths, torques. */
export const wordsTarget: Target = {
  name: 'words',
  corpus: words.map(bytesOf),
  run: (input) => {
    const text = textOf(input)
    const read = [readTrain(text, 'x'), readNeed(text, 'x'), ...(['length', 'torque', 'angle', 'speed'] as const).map((kind) => readQuantity(text, kind, 'x'))]
    for (const each of read) if (typeof each === 'number' && !Number.isFinite(each)) broken('a quantity is finite')
    return read.some((each) => !isUnmeasurable(each))
  },
}
