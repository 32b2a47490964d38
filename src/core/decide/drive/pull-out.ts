/** One point of a pull-out curve: full steps per second, torque N·m. */
export interface PullOutPoint {
  readonly stepRate: number
  readonly torqueNm: number
}

/**
 * Pull-out torque at a full-step rate, N·m, straight lines between the given points; the first point's torque below it,
 * null beyond the last point (nothing is promised there) or without points.
 */
export const pullOutAt = (points: readonly PullOutPoint[], stepRate: number): number | null => {
  const sorted = points.toSorted((a, b) => a.stepRate - b.stepRate)
  const upper = sorted.findIndex((point) => point.stepRate >= stepRate)
  const after = sorted[upper]
  if (!after) return null
  const before = sorted[upper - 1] ?? after
  if (after.stepRate === before.stepRate) return after.torqueNm
  const share = (stepRate - before.stepRate) / (after.stepRate - before.stepRate)
  return before.torqueNm + share * (after.torqueNm - before.torqueNm)
}

/** Highest full-step rate up to which the curve stays at or above a torque, 0 when the first point is below it; null without points. */
export const rateForTorque = (points: readonly PullOutPoint[], torqueNm: number): number | null => {
  const sorted = points.toSorted((a, b) => a.stepRate - b.stepRate)
  const under = sorted.findIndex((point) => point.torqueNm < torqueNm)
  if (sorted.length === 0) return null
  if (under < 0) return sorted.at(-1)?.stepRate ?? null
  const [before, after] = [sorted[under - 1], sorted[under]]
  if (!before || !after) return 0
  return (
    before.stepRate +
    ((before.torqueNm - torqueNm) / (before.torqueNm - after.torqueNm)) * (after.stepRate - before.stepRate)
  )
}
