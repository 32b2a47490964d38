import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Detection } from './detection.ts'

/** What was read on a printed sheet; where nothing was, that the sheet itself was recognised, so that a person looks for the marks and not for the sheet. */
export const onPrintedSheet = (answer: Detection | Unmeasurable): Detection | Unmeasurable =>
  isUnmeasurable(answer)
    ? unmeasurable(`the printed sheet was recognised, but no trace on it: ${answer.what}`, answer.where, 'if it has marks, draw over those that are faint with a dark pen and take a sharper photo of the whole sheet; if it has none yet, mark every rest position first')
    : answer
