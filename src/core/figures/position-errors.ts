import { extremes, mean, meanSquare } from '#core/numeric/moments'

/**
 * Position error e_k = r_k − δ·k − c of every rest 0 … K, deg. The offset c is the mean over commands 1 … K: the start
 * mark counts for increments only, so that whole full steps stay balanced.
 * @param anglesDeg rest angles, travel positive, command after command
 */
export const positionErrors = (anglesDeg: readonly number[], microstepDeg: number): number[] => {
  const raw = anglesDeg.map((angle, k) => angle - microstepDeg * k)
  const offset = mean(raw.slice(1))
  return raw.map((error) => error - offset)
}

/** How large the errors of commands 1 … K are. All deg. */
export interface ErrorSize {
  readonly peakDeg: number
  readonly peakToPeakDeg: number
  readonly rmsDeg: number
  /** Peak when the offset is chosen half way between the extremes. */
  readonly midRangePeakDeg: number
}

export const errorSize = (errorsDeg: readonly number[]): ErrorSize => {
  const counted = errorsDeg.slice(1)
  const [low, high] = extremes(counted)
  return {
    peakDeg: Math.max(Math.abs(low), Math.abs(high)),
    peakToPeakDeg: high - low,
    rmsDeg: Math.sqrt(meanSquare(counted)),
    midRangePeakDeg: (high - low) / 2,
  }
}
