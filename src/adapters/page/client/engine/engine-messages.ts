import type { Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import type { RestMarks } from '#core/review/rest-marks'
import type { Work } from '#core/review/work'

export interface Measuring {
  readonly turn: number
  readonly work: Work
  /** Look for the motor's cause too, which takes much longer. */
  readonly cause: boolean
}

/** What came out of a test, and which mark each rest stands on. */
export interface Measured {
  readonly turn: number
  readonly cause: boolean
  readonly outcome: Result | Unmeasurable
  readonly rests: RestMarks | null
}
