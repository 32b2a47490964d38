import { createHash } from 'node:crypto'
import { readdir, readFile } from 'node:fs/promises'
import { join, relative } from 'node:path'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { type EvidenceManifest, evidenceSchema, sealedText } from '#core/report/replay/evidence-schema'
import type { FileFinding } from '#core/report/replay/replay-document'
import { type Result, resultSchema } from '#core/report/result-schema'
import { systemReason } from './system-reason.ts'
import { putBack } from './tidied.ts'

/** An evidence folder as it lies there. */
export interface KeptEvidence {
  readonly folder: string
  readonly manifest: EvidenceManifest
  readonly result: Result
  /** Bytes of every file by its path inside, the manifest left out. */
  readonly files: ReadonlyMap<string, Uint8Array>
  /** What is not as the manifest says. */
  readonly findings: readonly FileFinding[]
}

const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex')

const filesIn = async (folder: string): Promise<ReadonlyMap<string, Uint8Array>> => {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true })
  const files = await Promise.all(
    entries
      .filter((entry) => !entry.isDirectory())
      .map(async (entry): Promise<[string, Uint8Array]> => {
        const path = join(entry.parentPath, entry.name)
        return [relative(folder, path).replaceAll('\\', '/'), entry.isFile() ? await readFile(path) : new Uint8Array()]
      }),
  )
  return new Map(files.toSorted(([a], [b]) => (a < b ? -1 : 1)))
}

const findingsOf = (manifest: EvidenceManifest, files: ReadonlyMap<string, Uint8Array>): readonly FileFinding[] => {
  const known = Object.entries(manifest.files).flatMap(([file, { sha256: wanted }]): FileFinding[] => {
    const content = files.get(file)
    if (content === undefined) return [{ file, what: 'missing' }]
    return sha256(content) === wanted ? [] : [{ file, what: 'changed' }]
  })
  const added = [...files.keys()].filter((file) => !Object.hasOwn(manifest.files, file)).map((file): FileFinding => ({ file, what: 'added' }))
  const sealed = sha256(sealedText(manifest)) === manifest.seal
  return [...(sealed ? [] : [{ file: 'manifest.json', what: 'changed' } as const]), ...known, ...added]
}

/** A document as it stands in the file, nothing dropped or put in another order, once it is known to be one. */
const parsed = <T>(bytes: Uint8Array | undefined, check: (value: unknown) => T): T | null => {
  try {
    const value: unknown = JSON.parse(Buffer.from(bytes ?? []).toString('utf8'))
    check(value)
    return value as T
  } catch {
    return null
  }
}

const unreadable = (error: unknown, folder: string): Unmeasurable => {
  const code = error instanceof Error && 'code' in error ? error.code : 'unknown reason'
  return unmeasurable(code === 'ENOENT' ? 'there is no such folder' : code === 'ENOTDIR' ? 'this is not a folder' : `it cannot be read (${systemReason(error)})`, folder, 'give an evidence folder that measure wrote')
}

/** Reads an evidence folder whole and compares each file with its manifest. */
export const readEvidence = async (folder: string): Promise<KeptEvidence | Unmeasurable> => {
  try {
    await putBack(folder)
    const all = new Map(await filesIn(folder))
    const manifest = parsed(all.get('manifest.json'), (value) => evidenceSchema.parse(value))
    if (!manifest) return unmeasurable(all.has('manifest.json') ? 'manifest.json is damaged' : 'there is no manifest.json', folder, 'give an evidence folder that measure wrote, or measure the input again')
    const result = parsed(all.get('result.json'), (value) => resultSchema.parse(value))
    if (!result) return unmeasurable(all.has('result.json') ? 'result.json is damaged' : 'result.json is missing', folder, 'there are no figures to compare with: measure the input again')
    all.delete('manifest.json')
    return { folder, manifest, result, files: all, findings: findingsOf(manifest, all) }
  } catch (error) {
    return unreadable(error, folder)
  }
}
