import type { Interval } from '#core/figures/effective-interval'
import type { ModelRow } from './compare-models.ts'
import type { Block } from './rest-parameters.ts'

/** Causes a finding may name. */
export type Cause =
  | 'even'
  | 'detent torque'
  | 'unequal phases'
  | 'unequal phases or stacks'
  | 'current offset'
  | 'friction'
  | 'unequal stacks'
  | 'unexplained'

export interface Finding {
  readonly cause: Cause
  /** Plain sentences: what it is, how sure, what to try, how a second test would show that it helped. */
  readonly text: string
  /** 0 … 1: weight of the models with the cause against those without (information criterion). */
  readonly confidence: number
}

/** The rest model fitted to a trace, as the result document carries it. 95 % intervals; units of holding torque, offset of phase current. */
export interface MotorFit {
  readonly detent2: Interval | null
  readonly detent4: Interval | null
  readonly imbalance: Interval | null
  readonly offset: Interval | null
  readonly friction: Interval | null
  readonly finding: Finding
  /** Why a parameter is null or only a bound, one sentence each. */
  readonly notTold: readonly { readonly parameter: Block; readonly why: string }[]
  readonly models: readonly ModelRow[]
}
