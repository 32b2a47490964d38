import { createHash } from 'node:crypto'
import { relative } from 'node:path'
import type { FolderContents } from '#adapters/files/write-folder'
import { plainJson } from '#core/quantity/one-line'
import { type EvidenceManifest, type Platform, sealedText } from '#core/report/replay/evidence-schema'
import { setUpLines } from '#core/report/set-up-lines'
import { toolVersion } from '#core/report/tool-version'
import type { Evidence } from './evidence.ts'

export const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex')

/** What these figures are computed on. */
export const platformHere = (): Platform => ({ node: process.versions.node, v8: process.versions.v8, os: process.platform, arch: process.arch })

export const sealOf = (manifest: EvidenceManifest): string => sha256(sealedText(manifest))

const filesOf = (contents: FolderContents): EvidenceManifest['files'] =>
  Object.fromEntries([...contents].map(([name, content]) => [name, { sha256: sha256(content), bytes: Buffer.byteLength(content) }]))

const handEdits = ({ detection }: Evidence): number => {
  const edited = detection && 'edited' in detection ? (detection.edited as { readonly changes?: readonly unknown[] }) : null
  return edited?.changes?.length ?? 0
}

/**
 * manifest.json: how the folder came about and what each of its files is.
 * @param folder where it will stand, so that the input's place can be told from there
 * @param keptAs the folder's own file that holds the input, or null
 */
export const manifestOf = (folder: string, evidence: Evidence, contents: FolderContents, keptAs: string | null): string => {
  const { input, result, madeWith = {} } = evidence
  const { setUp = {}, hints = null, train = null, path = null } = madeWith
  const open: Omit<EvidenceManifest, 'seal'> = {
    schema: 'stepwitness/evidence@1',
    tool: { name: 'stepwitness', version: toolVersion },
    platform: platformHere(),
    input: { kind: input.kind, name: input.name, sha256: input.sha256, bytes: input.bytes.length, keptAs, at: path === null ? null : relative(folder, path).replaceAll('\\', '/') },
    options: {
      setUp: setUpLines(setUp).map(([key, value]) => [key, value]),
      hints: hints as EvidenceManifest['options']['hints'],
      seed: result.settings.seed,
      intervals: result.settings.intervals,
      incrementLimits: result.settings.incrementLimits,
      train,
    },
    handEdits: handEdits(evidence),
    files: filesOf(contents),
  }
  return `${plainJson({ ...open, seal: sha256(sealedText(open)) }, 1)}\n`
}
