import { noteTarget, payloadTarget, resultTarget, wordsTarget } from './document-targets.ts'
import { photoTarget } from './photo-target.ts'
import type { Target } from './target.ts'
import { measureTarget, traceTarget } from './trace-targets.ts'

/** Every parser of files, codes and words from outside. */
export const targets = async (): Promise<readonly Target[]> => [traceTarget, measureTarget, resultTarget(), noteTarget(), payloadTarget, wordsTarget, await photoTarget()]
