import { microstepDegOf } from './rest-kind.ts'
import type { Result } from './result-schema.ts'

const rounding = 1e-9

/**
 * Which nominal positions no rest came near: the commands k = 1 … K whose k·δ has no rest within ±δ/2, offset as in the
 * position error. Empty when the figure itself is not given.
 */
export const missingCommands = (result: Result): readonly number[] => {
  if (result.figures.missing === null) return []
  const microstep = microstepDegOf(result)
  const rests = result.rests.map(({ errorDeg }, k) => (errorDeg ?? 0) / microstep + k).toSorted((a, b) => a - b)
  const missing: number[] = []
  let at = 0
  for (let k = 1; k < result.rests.length; k++) {
    while (at < rests.length && (rests[at] as number) < k - 0.5 - rounding) at++
    if (at >= rests.length || (rests[at] as number) > k + 0.5 + rounding) missing.push(k)
  }
  return missing
}
