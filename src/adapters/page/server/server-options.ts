import type { Detection, Hints } from '#core/detect/detection'
import type { SetUp } from '#core/ingest/set-up'
import type { Trace } from '#core/ingest/trace'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'

/** An evidence folder's contents, as measured from a saved test. */
export interface EvidenceOrder {
  readonly result: Result
  readonly trace: Trace
  readonly detection: Detection | null
  readonly input: { readonly kind: 'typed' | 'photo'; readonly name: string; readonly bytes: Uint8Array; readonly sha256: string }
  /** What was said beside the input, and where it lies, so that it can be measured again. */
  readonly madeWith: { readonly setUp: SetUp; readonly hints: Hints | null; readonly path: string }
}

/** What the page asks of the rest of the tool; given by whoever starts the server. */
export interface BenchActions {
  readonly detect: (photo: string, hints: Hints, stop: AbortSignal) => Promise<Detection | Unmeasurable>
  /** Measures a saved test and writes its evidence folder whole, or says why not. */
  readonly writeEvidence: (id: string, stop: AbortSignal) => Promise<null | Unmeasurable>
  readonly putNote: ((note: string, result: Result, evidence: string) => Promise<null | Unmeasurable>) | null
}

export interface ServerOptions {
  /** Project folder; nothing outside it is read or written. */
  readonly project: string
  /** Built page. */
  readonly pageRoot: string
  /** Folder with the minified plotting library. */
  readonly assetRoot: string
  /** Secret that every request to the project must carry. */
  readonly key: string
  readonly port: number
  /** Reachable from the local network; then these addresses are the machine's own. */
  readonly lan: readonly string[]
  readonly actions: BenchActions
  /** One line for each refusal and start of long work. */
  readonly log: (line: string) => void
}
