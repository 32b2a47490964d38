import type { Sensitivity } from './sensitivity.ts'

/** What would turn a verdict that is not proven into an answer, if the increments stay as measured. */
export interface FurtherMeasurement {
  /** `shows`: the mode could at least be judged then. */
  readonly expected: 'holds' | 'fails' | 'shows'
  /** Standard uncertainty of one rest to reach, deg at the shaft. */
  readonly uDeg: number
  /** Runs to average in all, those made included: u falls as 1/√n. */
  readonly passes: number
  /** Or: pointer or wall distance as a multiple of the present one, marks being as good in mm. */
  readonly lengthFactor: number
  readonly text: string
}

/** What has been measured so far. */
export interface SoFar {
  readonly uDeg: number
  readonly passes: number
}

/** More runs than anyone would make. */
const manyRuns = 30

/** Room for rounding, so that exactly four times as much stays four. */
const rounding = 1e-9

const outcomes = {
  holds: 'would show that it holds, if the increments stay as they are',
  fails: 'would show that it fails, if the increments stay as they are',
  shows: 'is the least that could show anything in this mode',
} as const

/** The formulas alone: u must shrink to `factor` of what it is. */
export const furtherFor = (factor: number, expected: FurtherMeasurement['expected'], { uDeg, passes }: SoFar): FurtherMeasurement => {
  const runs = Math.ceil(passes / (factor * factor) - rounding)
  const longer = 1 / factor
  const reach = `a pointer or wall distance ${longer.toFixed(1)} times as long`
  const ways = runs <= manyRuns ? `${runs} runs averaged in all, or ${reach}` : `${reach} (by repeats alone it would take ${runs} runs)`
  return { expected, uDeg: uDeg * factor, passes: runs, lengthFactor: longer, text: `${(uDeg * factor).toPrecision(2)}° per rest instead of ${uDeg.toPrecision(2)}° ${outcomes[expected]}: ${ways}` }
}

/** @returns null when no smaller u would settle it: an increment stands on a limit, or nothing was uncertain */
export const furtherMeasurement = ({ uFactorToHold, uFactorToFail }: Sensitivity, soFar: SoFar): FurtherMeasurement | null => {
  if (!(soFar.uDeg > 0)) return null
  if (uFactorToHold !== null) return uFactorToHold < 1 ? furtherFor(uFactorToHold, 'holds', soFar) : null
  return uFactorToFail !== null && uFactorToFail < 1 ? furtherFor(uFactorToFail, 'fails', soFar) : null
}
