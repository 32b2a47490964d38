import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Figure } from '#core/report/figures/chart'
import type { Result } from '#core/report/result-schema'
import type { Work } from '#core/review/work'

/** First the figures, for a picture of which the page's own thread is needed; then everything that is text. */
export type EvidenceJob =
  | { readonly kind: 'measure'; readonly work: Work; readonly sha256: string }
  | { readonly kind: 'texts'; readonly work: Work; readonly result: Result; readonly plotly: string; readonly overlay: Uint8Array | null }

export type EvidenceAnswer =
  | { readonly kind: 'measured'; readonly result: Result; readonly figures: readonly Figure[]; readonly overlaySvg: string | null }
  | { readonly kind: 'texts'; readonly texts: ReadonlyMap<string, string> }
  | Unmeasurable
