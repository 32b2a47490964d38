import { readTrace } from '#core/ingest/read-trace'
import { readSetUp, type SetUp, withPart } from '#core/ingest/set-up'
import type { Trace } from '#core/ingest/trace'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import type { EvidenceManifest } from './evidence-schema.ts'

const setUpOf = ({ options }: EvidenceManifest): SetUp | Unmeasurable => {
  let setUp: SetUp = {}
  for (const [key, text] of options.setUp) {
    const part = readSetUp(key, text, `manifest.json, ${key}`)
    if (isUnmeasurable(part)) return part
    setUp = withPart(setUp, part ?? {})
  }
  return setUp
}

/** A photo's marks are numbered, not lined, and its doubts came with them. */
const asPhotographed = (trace: Trace, { detection }: Result): Trace => {
  const doubts = detection?.doubts
  const warnings = Array.isArray(doubts) ? doubts.filter((doubt): doubt is string => typeof doubt === 'string') : []
  return { ...trace, lastDigit: 0, warnings, marks: trace.marks.map((mark, i) => ({ ...mark, line: i + 1 })) }
}

/**
 * The trace that an evidence folder was measured from.
 * @param text the typed input with the options that won over it, or marks.csv of a photo, which holds all of its set-up
 */
export const traceOfEvidence = (text: string, manifest: EvidenceManifest, kept: Result): Trace | Unmeasurable => {
  if (manifest.input.kind === 'photo') {
    const trace = readTrace(text)
    return isUnmeasurable(trace) ? trace : asPhotographed(trace, kept)
  }
  const setUp = setUpOf(manifest)
  return isUnmeasurable(setUp) ? setUp : readTrace(text, setUp)
}
