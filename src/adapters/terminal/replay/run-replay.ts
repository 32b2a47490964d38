import { type KeptEvidence, readEvidence } from '#adapters/files/read-evidence'
import { platformHere } from '#adapters/terminal/measure/manifest'
import type { Shown } from '#adapters/terminal/outcome'
import type { ReplayOptions } from '#adapters/terminal/replay-command'
import { decodeText } from '#core/ingest/decode-text'
import type { Trace } from '#core/ingest/trace'
import { measure } from '#core/measure'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { compareDocuments } from '#core/report/replay/compare-documents'
import { keyOutcomes } from '#core/report/replay/key-outcomes'
import { recomputed } from '#core/report/replay/recomputed'
import { type FileFinding, type PhotoFinding, type ReplayDocument, toleranceElsewhere } from '#core/report/replay/replay-document'
import { replayText } from '#core/report/replay/replay-text'
import { traceOfEvidence } from '#core/report/replay/trace-of-evidence'
import type { Result } from '#core/report/result-schema'
import { toolVersion } from '#core/report/tool-version'
import { photoAgain } from './photo-again.ts'
import { renderedAgain } from './rendered-again.ts'

const traceOf = ({ folder, manifest, result, files }: KeptEvidence): Trace | Unmeasurable => {
  const name = manifest.input.kind === 'photo' ? 'marks.csv' : (manifest.input.keptAs ?? 'the input')
  const bytes = files.get(name)
  if (!bytes) return unmeasurable(`${name} is missing`, folder, 'the figures cannot be computed again without it')
  const text = decodeText(bytes, name)
  return typeof text === 'string' ? traceOfEvidence(text, manifest, result) : text
}

const measuredAgain = (trace: Trace, { manifest: { options }, result }: KeptEvidence): Result | Unmeasurable => {
  const { seed, intervals, incrementLimits: limits } = options
  const measured = measure(trace, { seed, intervals, limits })
  return isUnmeasurable(measured) ? measured : recomputed(measured, trace, result)
}

/** 0 where every bit must come out the same. */
const toleranceFor = ({ manifest: { tool, platform } }: KeptEvidence): number =>
  tool.version === toolVersion && JSON.stringify(platform) === JSON.stringify(platformHere()) ? 0 : toleranceElsewhere

/** One finding a file, the manifest's first; rendering again only where it must give the same bytes. */
const allFindings = (findings: readonly FileFinding[], rendered: readonly FileFinding[]): readonly FileFinding[] => [
  ...findings,
  ...rendered.filter(({ file }) => !findings.some((each) => each.file === file)),
]

interface Found {
  readonly figures: ReplayDocument['figures']
  readonly files: readonly FileFinding[]
  readonly photo: PhotoFinding | null
  readonly tolerance: number
}

const documentOf = (kept: KeptEvidence, { figures, files, photo, tolerance }: Found): ReplayDocument => ({
  schema: 'stepwitness/replay@1',
  evidence: kept.folder,
  same: figures.differences.length === 0 && files.length === 0 && (photo?.comparison?.differences.length ?? 0) === 0,
  madeBy: { version: kept.manifest.tool.version, platform: kept.manifest.platform },
  replayedBy: { version: toolVersion, platform: platformHere() },
  tolerance,
  files,
  filesChecked: Object.keys(kept.manifest.files).length + 1,
  figures,
  photo,
  keyFigures: keyOutcomes(kept.result, figures),
})

/** `replay`: reads the folder, checks its files, measures its input again and compares value by value. */
export const runReplay = async (folder: string, options: ReplayOptions): Promise<(Shown & { readonly same: boolean }) | Unmeasurable> => {
  const kept = await readEvidence(folder)
  if (isUnmeasurable(kept)) return kept
  const trace = traceOf(kept)
  if (isUnmeasurable(trace)) return { ...trace, where: `${folder}, ${trace.where}` }
  const now = measuredAgain(trace, kept)
  if (isUnmeasurable(now)) return { ...now, where: `${folder}, ${now.where}` }
  const tolerance = toleranceFor(kept)
  const figures = compareDocuments(kept.result, now, tolerance)
  const photo = kept.manifest.input.kind === 'photo' ? await photoAgain(kept, options.photo, tolerance) : null
  const rendered = tolerance === 0 && figures.differences.length === 0 ? await renderedAgain(kept, trace, photo?.input ?? null) : []
  const document = documentOf(kept, { figures, files: allFindings(kept.findings, rendered), photo: photo?.finding ?? null, tolerance })
  return { json: document, text: replayText(document), same: document.same }
}
