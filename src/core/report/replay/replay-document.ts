import type { Comparison } from './compare-documents.ts'
import type { Platform } from './evidence-schema.ts'

/** A file of the folder that is not what the manifest says, or not what the figures give. */
export interface FileFinding {
  readonly file: string
  readonly what: 'changed' | 'missing' | 'added' | 'not what the figures give'
}

/** What became of the photo: found where it was, or why its marks were not looked for again. */
export interface PhotoFinding {
  readonly again: boolean
  readonly text: string
  /** Marks found again against those kept; null when not looked for. */
  readonly comparison: Comparison | null
}

/** What a replay found (interface "stepwitness/replay@1"). */
export interface ReplayDocument {
  readonly schema: 'stepwitness/replay@1'
  readonly evidence: string
  readonly same: boolean
  readonly madeBy: { readonly version: string; readonly platform: Platform }
  readonly replayedBy: { readonly version: string; readonly platform: Platform }
  /** Largest relative difference that counts as the same: 0 on the same version and platform. */
  readonly tolerance: number
  readonly files: readonly FileFinding[]
  readonly filesChecked: number
  readonly figures: Comparison
  readonly photo: PhotoFinding | null
  /** Each key figure and how it came out. */
  readonly keyFigures: readonly { readonly figure: string; readonly kept: number | null; readonly outcome: string }[]
}

/**
 * Relative tolerance on another version of the engine or another platform: its sine and logarithm may differ in the last
 * digit, and a resampled interval carries that on (common practice, no source).
 */
export const toleranceElsewhere = 1e-6
