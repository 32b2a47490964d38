import type { Detection, Hints } from '#core/detect/detection'
import type { SheetOrder } from '#core/prepare/sheet/drawn-pages'
import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import type { Work } from '#core/review/work'

export interface Project {
  readonly folder: string
  readonly tests: readonly { readonly id: string; readonly name: string; readonly changed: number }[]
  readonly notes: readonly string[]
  readonly evidence: readonly string[]
  readonly lan: boolean
  readonly canNote: boolean
}

export interface Saved {
  readonly id: string
  readonly rev: string
  readonly work: Work
}

export type SaveOutcome = { readonly kind: 'saved'; readonly rev: string } | { readonly kind: 'conflict'; readonly now: Saved }

/** Where tests are kept and heavy work is done: a bench server and its project folder, or this browser alone. */
export interface Backend {
  readonly kind: 'server' | 'browser'
  readonly project: () => Promise<Project>
  readonly create: (name: string) => Promise<Saved>
  readonly load: (id: string) => Promise<Saved>
  /** Rejects when it cannot be reached; a conflict is an answer. */
  readonly save: (id: string, base: string, work: Work) => Promise<SaveOutcome>
  readonly putPhoto: (id: string, photo: Blob) => Promise<{ readonly sha256: string } | Unmeasurable>
  readonly photo: (id: string) => Promise<Blob | null>
  readonly detect: (id: string, photo: Blob, hints: Hints, stop: AbortSignal) => Promise<Detection | Unmeasurable>
  /** Measures the test as it is saved and writes its evidence whole or not at all; rejects when stopped. */
  readonly saveEvidence: (id: string, work: Work, stop: AbortSignal) => Promise<{ readonly where: string } | Unmeasurable>
  readonly evidence: (id: string) => Promise<Result | null>
  /** An address at which the saved report opens; null where only the folder or the download has it. */
  readonly report: (id: string) => Promise<string | null>
  readonly putNote: (id: string, note: string) => Promise<{ readonly where: string } | Unmeasurable>
  /** A PDF, and the letters of the motor's name that it could not be printed with. */
  readonly sheet: (order: SheetOrder) => Promise<{ readonly pdf: Blob; readonly notPrinted: string }>
  readonly phoneCode: () => Promise<{ readonly code: string; readonly minutes: number; readonly addresses: readonly string[] }>
}

/** The server was reached and said no. */
export class Refused extends Error {
  readonly status: number
  constructor(status: number, say: string) {
    super(say)
    this.status = status
  }
}
