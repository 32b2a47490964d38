import { join } from 'node:path'
import type { KeptEvidence } from '#adapters/files/read-evidence'
import { type InputFile, readInput } from '#adapters/files/read-input'
import type { Hints } from '#core/detect/detection'
import { isUnmeasurable, sentenceOf } from '#core/quantity/unmeasurable'
import { compareDocuments } from '#core/report/replay/compare-documents'
import type { PhotoFinding } from '#core/report/replay/replay-document'

/** The photo of an evidence folder, if it can still be had. */
export interface PhotoAgain {
  readonly finding: PhotoFinding
  readonly input: InputFile | null
}

const notAgain = (text: string, input: InputFile | null = null): PhotoAgain => ({ finding: { again: false, text: `${text}; the figures are computed from marks.csv`, comparison: null }, input })

/** Marks as the tool found them, before any were changed by hand. */
const foundMarks = ({ result: { detection } }: KeptEvidence): unknown => {
  const edited = detection?.edited as { readonly found?: { readonly marks?: unknown } } | undefined
  return edited?.found?.marks ?? detection?.marks
}

/** Looks for the photo where it was (or where it is said to be now), by its hash, and for its marks again with the same hints. */
export const photoAgain = async (kept: KeptEvidence, place: string | undefined, tolerance: number): Promise<PhotoAgain> => {
  const { folder, manifest } = kept
  const path = place ?? (manifest.input.at === null ? null : join(folder, manifest.input.at))
  if (path === null) return notAgain('where it was is not known; --photo says where it is now')
  const input = await readInput(path)
  if (isUnmeasurable(input)) return notAgain(`it is not at ${path}; --photo says where it is now`)
  if (input.sha256 !== manifest.input.sha256) return notAgain(`the file at ${path} is another one (its SHA-256 differs)`)
  if (manifest.platform.os === 'browser') return notAgain('it is the same file; a browser decoded it, to grey levels a little other than here, so its marks are not looked for again', input)
  if (manifest.options.hints === null) return notAgain('it is the same file; what was told about it on the page is not kept, so its marks are not looked for again', input)
  const { detectInput } = await import('#adapters/terminal/detect/detect-input')
  const detection = await detectInput(input, manifest.options.hints as Hints)
  if (isUnmeasurable(detection)) return { finding: { again: true, text: sentenceOf(detection), comparison: compareDocuments(foundMarks(kept), [], tolerance) }, input }
  const comparison = compareDocuments(foundMarks(kept), JSON.parse(JSON.stringify(detection.marks)), tolerance)
  const text = comparison.differences.length === 0 ? `the same file; all ${detection.marks.length} marks found again` : 'the same file; its marks come out otherwise:'
  return { finding: { again: true, text, comparison }, input }
}
