import { extremes, mean, standardDeviation } from '#core/numeric/moments'

/** Deviations x_ij at each target i: one row per target, one value per run. */
export type Deviations = readonly (readonly number[])[]

/** Positioning figures of an axis, in the unit of the deviations (names and formulas of ISO 230-2:2006, 2.12–2.24). */
export interface AxisFigures {
  /** B: largest |B_i|, and the signed mean of B_i = mean forward − mean backward. */
  readonly reversal: number
  readonly meanReversal: number
  /** E: systematic deviation, forward, backward, both. */
  readonly systematicForward: number
  readonly systematicBackward: number
  readonly systematic: number
  /** M: range of the mean bidirectional deviation. */
  readonly meanDeviation: number
  /** R and A need at least two runs each way; null with fewer. */
  readonly spread: {
    readonly repeatabilityForward: number
    readonly repeatabilityBackward: number
    readonly repeatability: number
    readonly accuracyForward: number
    readonly accuracyBackward: number
    readonly accuracy: number
  } | null
}

const width = (values: readonly number[]): number => {
  const [low, high] = extremes(values)
  return high - low
}

const largest = (values: readonly number[]): number => extremes(values)[1]

/** max(mean + 2s) − min(mean − 2s). */
const reach = (means: readonly number[], deviations: readonly number[]): number =>
  largest(means.map((each, i) => each + 2 * (deviations[i] ?? 0))) - extremes(means.map((each, i) => each - 2 * (deviations[i] ?? 0)))[0]

const spreadOf = (forward: Deviations, backward: Deviations, reversals: readonly number[]): AxisFigures['spread'] => {
  if ([...forward, ...backward].some((runs) => runs.length < 2)) return null
  const up = forward.map(standardDeviation)
  const down = backward.map(standardDeviation)
  const upMeans = forward.map(mean)
  const downMeans = backward.map(mean)
  const both = reversals.map((b, i) => Math.max(2 * (up[i] ?? 0) + 2 * (down[i] ?? 0) + Math.abs(b), 4 * (up[i] ?? 0), 4 * (down[i] ?? 0)))
  return {
    repeatabilityForward: 4 * largest(up),
    repeatabilityBackward: 4 * largest(down),
    repeatability: largest(both),
    accuracyForward: reach(upMeans, up),
    accuracyBackward: reach(downMeans, down),
    accuracy: reach([...upMeans, ...downMeans], [...up, ...down]),
  }
}

/**
 * Figures of ISO 230-2 from runs in both directions over the same targets. The standard asks for five runs each way;
 * that is for the caller to see to.
 * @param forward, backward one row per target, in the same order
 */
export const axisFigures = (forward: Deviations, backward: Deviations): AxisFigures => {
  const up = forward.map(mean)
  const down = backward.map(mean)
  const reversals = up.map((each, i) => each - (down[i] ?? 0))
  return {
    reversal: largest(reversals.map(Math.abs)),
    meanReversal: mean(reversals),
    systematicForward: width(up),
    systematicBackward: width(down),
    systematic: width([...up, ...down]),
    meanDeviation: width(up.map((each, i) => (each + (down[i] ?? 0)) / 2)),
    spread: spreadOf(forward, backward, reversals),
  }
}
