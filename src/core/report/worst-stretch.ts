import { microstepDegOf } from './rest-kind.ts'
import type { Result } from './result-schema.ts'

/** Commands from … to, both included, as indices into the rests. */
export interface CommandRange {
  readonly from: number
  readonly to: number
}

/** Where rest k stands on the scale of nominal positions, deg: k·δ + e_k, the offset taken off as in the position error. */
export const placeDeg = (result: Result, k: number): number => microstepDegOf(result) * k + (result.rests[k]?.errorDeg ?? 0)

/** Up to one electrical cycle of commands (at most `most`) about the largest position error. */
export const worstStretch = (result: Result, most = 64): CommandRange => {
  const last = result.rests.length - 1
  const length = Math.min(last, 4 * result.motor.microsteps, most)
  let worst = 0
  result.rests.forEach(({ errorDeg }, k) => {
    if (k > 0 && Math.abs(errorDeg ?? 0) > Math.abs(result.rests[worst]?.errorDeg ?? 0) * (worst === 0 ? 0 : 1 + 1e-9)) worst = k
  })
  const from = Math.max(0, Math.min(last - length, worst - Math.floor(length / 2)))
  return { from, to: from + length }
}
