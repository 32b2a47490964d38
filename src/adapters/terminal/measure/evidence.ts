import type { InputFile } from '#adapters/files/read-input'
import type { FolderContents } from '#adapters/files/write-folder'
import type { Detection } from '#core/detect/detection'
import type { Trace } from '#core/ingest/trace'
import type { Result } from '#core/report/result-schema'

export interface Evidence {
  readonly result: Result
  readonly input: InputFile
  readonly trace: Trace
  readonly detection: Detection | null
}

export const evidenceOf = async ({ result }: Evidence): Promise<FolderContents> => {
  return new Map<string, string | Uint8Array>([['result.json', `${JSON.stringify(result, null, 1)}\n`]])
}
