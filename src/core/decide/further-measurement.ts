import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { falseAlarm } from './fail-chance.ts'
import { likelySizes, worstOf } from './likely-sizes.ts'
import type { Increment, IncrementLimits } from './mode-increments.ts'
import { twoDigits } from '#core/quantity/write-number'

/** What would turn a verdict that is not proven into an answer. */
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
  readonly coverageFactor: number
}

/** A pointer twenty times as long is no plan: the increment stands on the limit. */
const hopeless = 1 / 20

/** More runs than anyone would make. */
const manyRuns = 30

/** Room for rounding, so that exactly four times as much stays four. */
const rounding = 1e-9

/** Chance of the answer that a further measurement is planned for. */
const wanted = 0.9

const outcomes = {
  holds: 'should show that it holds',
  fails: 'should show that it fails',
  shows: 'is the least that could show anything in this mode',
} as const

/** The formulas alone: u must shrink to `factor` of what it is; above 1 it would already do, and one more run is asked for. */
export const furtherFor = (factor: number, expected: FurtherMeasurement['expected'], { uDeg, passes }: SoFar): FurtherMeasurement => {
  const runs = Math.max(passes + 1, Math.ceil(passes / (factor * factor) - rounding))
  const lengthFactor = Math.max(1, 1 / factor)
  const needed = uDeg * Math.min(factor, 1)
  const reach = `a pointer or wall distance ${lengthFactor.toFixed(1)} times as long`
  const ways = factor >= 1 ? `${runs} runs averaged in all` : runs <= manyRuns ? `${runs} runs averaged in all, or ${reach}` : `${reach} (by repeats alone it would take ${runs} runs)`
  return { expected, uDeg: needed, passes: runs, lengthFactor, text: `${twoDigits(needed)}° per rest instead of ${twoDigits(uDeg)}° ${outcomes[expected]}: ${ways}${expected === 'shows' ? '' : '; nine times out of ten, if every electrical cycle is like those measured'}` }
}

const margin = (size: number, { low, high }: IncrementLimits): number => Math.min(size - low, high - size)

/**
 * u as a multiple of the present one at which j increments outside, the least of them by `distance` U, are found out: the
 * furthest of them must read so far beyond the limit that j on it would not, and luck takes j chances.
 */
const toFail = (distance: number, j: number, coverageFactor: number): number => {
  const asked = Math.max(coverageFactor, normalQuantile(1 - falseAlarm / j, 0, 1))
  return (distance * coverageFactor) / (asked - normalQuantile((1 - wanted) ** (1 / j), 0, 1))
}

/**
 * How much further out the furthest phase looks than it is, in units of U: by nothing where it stands alone, by the median
 * worst of all phases' means where they are alike; half of that is taken.
 */
const luckOf = (increments: number, phases: number, coverageFactor: number): number => {
  const cycles = increments / phases
  return cycles < 2 ? 0 : normalQuantile(0.5 ** (1 / phases), 0, 1) / Math.sqrt(cycles) / coverageFactor / 2
}

/**
 * Plans a measurement that settles a mode. To hold, each of m increments must read inside the limits by k·√2·u although
 * the worst of m errors of √2·u goes against it; to fail, one must read outside further than those on the limit would.
 * Both are solved for u, so that the answer comes in nine cases out of ten.
 * @param increments of the mode, as measured, in order
 * @param mode n, whose electrical cycle has 4n increments
 * @returns null when nothing was uncertain, or increments stand so near a limit that no plan can be made from them
 */
export const furtherMeasurement = (increments: readonly Increment[], { mode, limits }: { readonly mode: number; readonly limits: IncrementLimits }, soFar: SoFar): FurtherMeasurement | null => {
  if (!(soFar.uDeg > 0) || increments.length === 0) return null
  const { coverageFactor } = soFar
  const margins = likelySizes(increments, { phases: 4 * mode, coverageFactor, alone: 'as read' }).map((size, i) => ({ margin: margin(size, limits), expanded: increments[i]?.expanded ?? 0 }))
  const luck = luckOf(increments.length, 4 * mode, coverageFactor)
  const outside = margins.filter((each) => each.margin / each.expanded < -luck).map((each) => -each.margin / each.expanded - luck).sort((a, b) => b - a)
  const failing = outside.reduce((most, distance, i) => Math.max(most, toFail(distance, i + 1, coverageFactor)), Number.NEGATIVE_INFINITY)
  if (outside.length > 0) return failing > hopeless ? furtherFor(failing, 'fails', soFar) : null
  const share = coverageFactor / (coverageFactor + worstOf(increments.length, wanted))
  const factor = share * (margins.reduce((least, each) => Math.min(least, each.margin / each.expanded), Number.POSITIVE_INFINITY) + luck)
  return factor > hopeless ? furtherFor(factor, 'holds', soFar) : null
}
