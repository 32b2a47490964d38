import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import type { RestMarks } from '#core/review/rest-marks'
import type { Work } from '#core/review/work'

export interface Measuring {
  readonly turn: number
  readonly work: Work
}

/** What came out of a test, and which mark each rest stands on. */
export interface Measured {
  readonly turn: number
  readonly outcome: Result | Unmeasurable
  readonly rests: RestMarks | null
}
