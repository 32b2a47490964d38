/** One increment of a step mode, in nominal increments of that mode. */
export interface Increment {
  readonly size: number
  /** Expanded uncertainty U. */
  readonly expanded: number
}

/** Limits of an increment in units of its nominal. */
export interface IncrementLimits {
  readonly low: number
  readonly high: number
}

export const usualLimits: IncrementLimits = { low: 0.5, high: 1.5 }

/** Rests as they would be were something else so, which the marks allow nearly as well. */
export interface OtherReading {
  readonly anglesDeg: readonly number[]
  /** Place of a rest on a full step, where that is what is supposed. */
  readonly fullStepPlace?: number
  /** `with …`, to stand in a sentence. */
  readonly supposed: string
  /** What a person can do to find out which it is, an imperative. */
  readonly toSettle: string
}

export interface ModeInput {
  /** Rests 0 … K in each way the jumps can be read, deg, travel positive. */
  readonly readings: readonly (readonly number[])[]
  /** The same under other suppositions that are nearly as likely: another counting of the commands, another foot. */
  readonly others?: readonly OtherReading[]
  readonly uDeg: readonly number[]
  readonly coverageFactor: number
  /** Relative standard uncertainty that all increments share; left out: none. */
  readonly incrementScaleU?: number
  readonly fullStepDeg: number
  readonly microsteps: number
  /** Place of a rest that stands on a full step. */
  readonly fullStepPlace: number
  readonly limits: IncrementLimits
  /** u is a guess that no verdict can rest on. */
  readonly uGuessed?: boolean
  /** What must be settled before any verdict can rest on the trace; null or left out where nothing must. */
  readonly unsettled?: string | null
}

/** Another counting may hold more rests than the one the uncertainties are for; the last one stands for them. */
const uAt = ({ uDeg }: ModeInput, k: number): number => uDeg[k] ?? uDeg.at(-1) ?? 0

/** Rests at every (N/n)-th command from a full step on → increments of mode n. */
export const incrementsOfMode = (angles: readonly number[], input: ModeInput, mode: number): Increment[] => {
  const stride = input.microsteps / mode
  const nominal = input.fullStepDeg / mode
  const increments: Increment[] = []
  for (let k = (input.fullStepPlace % stride) + stride; k < angles.length; k += stride) {
    const size = ((angles[k] ?? 0) - (angles[k - stride] ?? 0)) / nominal
    const ofMarks = Math.hypot(uAt(input, k), uAt(input, k - stride)) / nominal
    increments.push({ size, expanded: input.coverageFactor * Math.hypot(ofMarks, (input.incrementScaleU ?? 0) * size) })
  }
  return increments
}

/** Every divisor of N, coarse to fine. */
export const modesOf = (microsteps: number): number[] => Array.from({ length: microsteps }, (_, i) => i + 1).filter((n) => microsteps % n === 0)
