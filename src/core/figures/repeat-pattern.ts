import fCdf from '@stdlib/stats-base-dists-f-cdf'
import { mean, standardDeviation, sum } from '#core/numeric/moments'

/** Errors folded at a period: one entry per phase, phase 0 being commands period, 2·period, … */
export interface Folded {
  readonly period: number
  readonly meanDeg: readonly number[]
  /** Standard deviation per phase; null with a single value. */
  readonly spreadDeg: readonly (number | null)[]
  readonly residualSumOfSquares: number
}

/** @param errorsDeg e_0 … e_K; the start mark is left out */
export const fold = (errorsDeg: readonly number[], period: number): Folded => {
  const phases: number[][] = Array.from({ length: period }, () => [])
  for (let k = 1; k < errorsDeg.length; k++) phases[k % period]?.push(errorsDeg[k] as number)
  const means = phases.map((values) => (values.length ? mean(values) : 0))
  return {
    period,
    meanDeg: means,
    spreadDeg: phases.map((values) => (values.length > 1 ? standardDeviation(values) : null)),
    residualSumOfSquares: sum(phases.flatMap((values, i) => values.map((value) => (value - (means[i] ?? 0)) ** 2))),
  }
}

export interface RepeatPattern {
  readonly oneFullStep: Folded
  readonly twoFullSteps: Folded
  readonly electricalCycle: Folded
  /** Whether every other full step differs; null where there are too few commands to say. */
  readonly alternate: { readonly f: number; readonly p: number; readonly differ: boolean } | null
}

/** F test of the pattern over two full steps against the one over one: N more means against what is left over. */
const alternateFullSteps = (one: Folded, two: Folded, commands: number): RepeatPattern['alternate'] => {
  const free = commands - two.period
  if (free < two.period) return null
  const between = one.residualSumOfSquares - two.residualSumOfSquares
  const scale = one.residualSumOfSquares + 1e-30
  if (two.residualSumOfSquares <= 1e-18 * scale || scale < 1e-24) return { f: 0, p: between > 1e-9 * scale && scale > 1e-24 ? 0 : 1, differ: between > 1e-9 * scale && scale > 1e-20 }
  const f = between / one.period / (two.residualSumOfSquares / free)
  const p = 1 - fCdf(Math.max(0, f), one.period, free)
  return { f, p, differ: p < 0.05 }
}

/** The errors folded at one full step, two, and one electrical cycle (four). */
export const repeatPattern = (errorsDeg: readonly number[], microsteps: number): RepeatPattern => {
  const [oneFullStep, twoFullSteps, electricalCycle] = [1, 2, 4].map((steps) => fold(errorsDeg, steps * microsteps)) as [Folded, Folded, Folded]
  return { oneFullStep, twoFullSteps, electricalCycle, alternate: alternateFullSteps(oneFullStep, twoFullSteps, errorsDeg.length - 1) }
}
