import type { Hints } from '#core/detect/detection'
import type { SetUp } from '#core/ingest/set-up'
import type { Result } from '#core/report/result-schema'
import { setUpLines } from '#core/report/set-up-lines'
import { toolVersion } from '#core/report/tool-version'
import type { EvidenceManifest, Platform } from './evidence-schema.ts'

/** What a manifest tells beside the result itself. */
export interface ManifestParts {
  readonly platform: Platform
  readonly input: EvidenceManifest['input']
  readonly setUp: SetUp
  readonly hints: Hints | null
  readonly train: string | null
  readonly files: EvidenceManifest['files']
}

/** Changes made by hand, as the measured detection tells them. */
const handEdits = ({ detection }: Result): number => {
  const edited = detection && 'edited' in detection ? (detection.edited as { readonly changes?: readonly unknown[] }) : null
  return edited?.changes?.length ?? 0
}

/** How an evidence folder came about and what each of its files is; whoever writes it adds the seal. */
export const manifestOf = (result: Result, { platform, input, setUp, hints, train, files }: ManifestParts): Omit<EvidenceManifest, 'seal'> => ({
  schema: 'stepwitness/evidence@1',
  tool: { name: 'stepwitness', version: toolVersion },
  platform,
  input,
  options: {
    setUp: setUpLines(setUp).map(([key, value]) => [key, value]),
    hints: hints as EvidenceManifest['options']['hints'],
    seed: result.settings.seed,
    intervals: result.settings.intervals,
    incrementLimits: result.settings.incrementLimits,
    train,
  },
  handEdits: handEdits(result),
  files,
})
