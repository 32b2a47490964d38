import { createHash } from 'node:crypto'
import { relative } from 'node:path'
import type { InputFile } from '#adapters/files/read-input'
import type { FolderContents } from '#adapters/files/write-folder'
import type { Hints } from '#core/detect/detection'
import type { SetUp } from '#core/ingest/set-up'
import { plainJson } from '#core/quantity/one-line'
import { type EvidenceManifest, type Platform, sealedText } from '#core/report/replay/evidence-schema'
import { manifestOf } from '#core/report/replay/manifest-of'
import type { Result } from '#core/report/result-schema'

/** What was said beside an input. */
export interface MadeWith {
  readonly setUp?: SetUp
  readonly hints?: Hints | null
  readonly train?: string | null
  /** Where the input was. */
  readonly path?: string | null
}

/** A result and what it was made from. */
export interface MadeResult {
  readonly result: Result
  readonly input: InputFile
  /** What was said beside the input, so that it can be measured again. */
  readonly madeWith?: MadeWith
}

export const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex')

/** What these figures are computed on. */
export const platformHere = (): Platform => ({ node: process.versions.node, v8: process.versions.v8, os: process.platform, arch: process.arch })

export const sealOf = (manifest: EvidenceManifest): string => sha256(sealedText(manifest))

const filesOf = (contents: FolderContents): EvidenceManifest['files'] =>
  Object.fromEntries([...contents].map(([name, content]) => [name, { sha256: sha256(content), bytes: Buffer.byteLength(content) }]))

/**
 * manifest.json: how the folder came about and what each of its files is.
 * @param folder where it will stand, so that the input's place can be told from there
 * @param keptAs the folder's own file that holds the input, or null
 */
export const manifestText = (folder: string, { input, result, madeWith = {} }: MadeResult, contents: FolderContents, keptAs: string | null): string => {
  const { setUp = {}, hints = null, train = null, path = null } = madeWith
  const at = path === null ? null : relative(folder, path).replaceAll('\\', '/')
  const open = manifestOf(result, {
    platform: platformHere(),
    input: { kind: input.kind, name: input.name, sha256: input.sha256, bytes: input.bytes.length, keptAs, at },
    setUp, hints, train,
    files: filesOf(contents),
  })
  return `${plainJson({ ...open, seal: sha256(sealedText(open)) }, 1)}\n`
}
