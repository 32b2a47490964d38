import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import { linearLeastSquares } from '#core/numeric/least-squares'
import { extremes, mean, sum } from '#core/numeric/moments'
import type { MeanRun } from './mean-run.ts'

/** How repeated runs moved against each other as wholes. */
export type Drift =
  | { readonly kind: 'none' }
  /** Steady change from run to run, deg per run: something warms or creeps. */
  | { readonly kind: 'trend'; readonly degPerPass: number }
  /** One step between two runs, deg: the paper slipped, or was put down anew. */
  | { readonly kind: 'slip'; readonly afterPass: number; readonly deg: number }
  | { readonly kind: 'unsteady'; readonly widthDeg: number }

const level = 0.99

/** Variance of offsets about a model over what their own scatter allows; more than the F limit is more than chance. */
const unexplained = (residuals: readonly number[], free: number, { repeatability, commands }: MeanRun): boolean => {
  if (!repeatability || free < 1) return false
  const expected = repeatability.uDeg ** 2 / commands.length
  const left = sum(residuals.map((each) => each * each)) / free
  return left > 1e-18 && left > expected * fQuantile(level, free, repeatability.degreesOfFreedom)
}

const about = (values: readonly number[]): number[] => values.map((value) => value - mean(values))

const trendOf = (offsets: readonly number[]): { slope: number; residuals: number[] } => {
  const places = about(offsets.map((_, i) => i))
  const slope = linearLeastSquares([places], about(offsets))?.coefficients[0] ?? 0
  return { slope, residuals: about(offsets).map((each, i) => each - slope * (places[i] ?? 0)) }
}

/** Best split of the runs into those before and those after one step. */
const stepOf = (offsets: readonly number[]): { after: number; step: number; residuals: number[] } => {
  const splits = offsets.slice(1).map((_, i) => {
    const [before, later] = [offsets.slice(0, i + 1), offsets.slice(i + 1)]
    const residuals = [...about(before), ...about(later)]
    return { after: i, step: mean(later) - mean(before), residuals, left: sum(residuals.map((each) => each * each)) }
  })
  return splits.reduce((best, next) => (next.left < best.left ? next : best))
}

/**
 * Whether the offsets of repeated runs differ by more than their marks allow (F test at 1 %), and in what way. Two runs
 * cannot tell a step from a trend; a step is then named, being the commoner (common practice, no source).
 */
export const driftOf = (run: MeanRun): Drift => {
  const { offsetsDeg: offsets, runs } = run
  if (offsets.length < 2 || !unexplained(about(offsets), offsets.length - 1, run)) return { kind: 'none' }
  const step = stepOf(offsets)
  const slip: Drift = { kind: 'slip', afterPass: runs[step.after]?.pass ?? 0, deg: step.step }
  if (offsets.length === 2) return slip
  const trend = trendOf(offsets)
  const size = (residuals: readonly number[]): number => sum(residuals.map((each) => each * each))
  const trendWorks = !unexplained(trend.residuals, offsets.length - 2, run)
  const stepWorks = !unexplained(step.residuals, offsets.length - 2, run)
  if (trendWorks && (!stepWorks || size(trend.residuals) <= size(step.residuals))) return { kind: 'trend', degPerPass: trend.slope }
  if (stepWorks) return slip
  const [low, high] = extremes(offsets)
  return { kind: 'unsteady', widthDeg: high - low }
}
