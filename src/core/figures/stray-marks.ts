import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { dealtOut } from '#core/numeric/dealt-out'
import { median, robustSpread } from '#core/numeric/median'

export interface StrayOptions {
  readonly microsteps: number
  /** Standard uncertainty of a mark as stated, deg; 0 where nobody did. */
  readonly uDeg: number
}

/** A rest that stands off alone. */
export interface StrayMark {
  /** Place among the rests. */
  readonly place: number
  /** How far, deg, travel positive. */
  readonly offDeg: number
}

/** Cycles wanted to know what a rest's own phase does, and neighbours on either side to know what its full step does. */
const fewestCycles = 3
const neighbours = 3
/** A mark alone is held against medians of several others, which adds this much to its own standard deviation. */
const widened = 1.25
/** Chance that marks as good as stated show any stray at all. */
const falseAlarm = 0.02
/** More strays than this share of the marks are no strays. */
const mostShare = 0.02

/** Middle of the values beside a place, one to three of them. */
const middleOf = (values: readonly number[], from: number, to: number): number => {
  const [a = 0, b = a, c] = values.slice(from, to)
  return c === undefined ? (a + b) / 2 : Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))
}

/** How far a value is off the neighbours on both sides: the lesser of the two, 0 where it lies between them or has none. */
const offBoth = (own: readonly number[], k: number): number => {
  if (k === 0 || k === own.length - 1) return 0
  const here = own[k] ?? 0
  const [left, right] = [here - middleOf(own, Math.max(0, k - neighbours), k), here - middleOf(own, k + 1, k + 1 + neighbours)]
  return left * right <= 0 ? 0 : Math.abs(left) < Math.abs(right) ? left : right
}

/** What each rest is off the others of its phase; teeth and wander are still in it. */
const offPhase = (errors: readonly number[], period: number): number[] => {
  const usual = dealtOut(errors, period).map(median)
  return errors.map((error, k) => error - (usual[k % period] ?? 0))
}

/** Scatter of single rests, from how far each is off the middle of its two neighbours: √1.5 times as much, and strays hardly enter. */
const scatterOf = (own: readonly number[]): number => robustSpread(own.slice(2).map((next, k) => (own[k + 1] ?? 0) - ((own[k] ?? 0) + next) / 2)) / Math.sqrt(1.5)

/** A rotor in step lags or leads by less than two full steps; farther off and back again within one command is a slip of the typing. */
const mostFullSteps = 2

/**
 * Marks that no motor in step could have come to, however short the trace and however many commands share one.
 * @param errorsDeg e_0 … e_K
 * @returns for each its first rest
 */
export const impossibleMarks = (errorsDeg: readonly number[], { microsteps, fullStepDeg }: { readonly microsteps: number; readonly fullStepDeg: number }): StrayMark[] => {
  const rests = errorsDeg.map((error, place) => ({ place, angle: error + (place * fullStepDeg) / microsteps }))
  const marks = rests.filter(({ angle }, k) => k === 0 || Math.abs(angle - (rests[k - 1]?.angle ?? 0)) > 1e-9 * fullStepDeg)
  return marks.slice(1, -1).flatMap(({ place, angle }, i) => {
    const [left, right] = [angle - (marks[i]?.angle ?? 0), angle - (marks[i + 2]?.angle ?? 0)]
    const offDeg = Math.abs(left) < Math.abs(right) ? left : right
    return left * right > 0 && Math.abs(offDeg) > mostFullSteps * fullStepDeg ? [{ place, offDeg }] : []
  })
}

/**
 * Rests that stand alone, off both what the other cycles show at their phase and what their neighbours are off: slips of the
 * hand, or a shaft that hung once. A motor's pattern repeats, a bad tooth takes its whole full step along, and neither is found here.
 * @param errorsDeg e_0 … e_K
 * @returns furthest first; empty with less than three electrical cycles, or where so many stand off that none is alone
 */
export const strayMarks = (errorsDeg: readonly number[], { microsteps, uDeg }: StrayOptions): StrayMark[] => {
  const period = 4 * microsteps
  if (errorsDeg.length - 1 < fewestCycles * period) return []
  const own = offPhase(errorsDeg, period)
  const off = own.map((_, k) => offBoth(own, k))
  const scatter = Math.max(uDeg, scatterOf(own)) * widened
  const reach = -normalQuantile(falseAlarm / 2 / off.length, 0, 1) * scatter
  const found = off.flatMap((offDeg, place) => (place > 0 && Math.abs(offDeg) > reach && scatter > 0 ? [{ place, offDeg }] : []))
  return found.length > Math.max(2, mostShare * off.length) ? [] : found.sort((a, b) => Math.abs(b.offDeg) - Math.abs(a.offDeg))
}
