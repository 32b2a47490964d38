import { rms } from '#core/numeric/moments'
import type { Contribution } from '#core/rig/budget'
import { repeatScatter } from './mark-uncertainty.ts'

/** Each rest's own standard uncertainty settled, with where it comes from. */
export interface SettledMarks {
  readonly uDeg: readonly number[]
  readonly contributions: readonly Contribution[]
  readonly warnings: readonly string[]
}

export interface MarkKnowledge {
  readonly anglesDeg: readonly number[]
  /** As stated per rest; null where nobody did. */
  readonly statedDeg: readonly (number | null)[]
  /** From the last digit typed, deg; 0 for a photo. */
  readonly readingDeg: number
  readonly microsteps: number
  readonly source: string
}

/**
 * Stated uncertainties are taken as they are. Where there are none, the scatter of the trace's own repeats is used, or
 * the last digit typed where it repeats too little; both are said.
 */
export const settleMarks = ({ anglesDeg, statedDeg, readingDeg, microsteps, source }: MarkKnowledge): SettledMarks => {
  if (statedDeg.every((u) => u !== null)) {
    const uDeg = statedDeg.map((u) => u ?? 0)
    return { uDeg, contributions: [{ source, uDeg: rms(uDeg), kind: 'mark' }], warnings: [] }
  }
  const scatter = repeatScatter(anglesDeg, microsteps)
  const u = Math.max(scatter ?? 0, readingDeg)
  const from = scatter !== null && scatter >= readingDeg ? 'repeat scatter of the trace (marks and motor together)' : 'last digit typed'
  const said = `Nobody stated how well a mark is placed; ${u.toPrecision(2)}° was taken from the ${from}. Give mark-uncertainty (for a fine pen about 0.2 mm at the radius of the marks) for a verdict that can be relied on.`
  return { uDeg: statedDeg.map((stated) => stated ?? u), contributions: [{ source: from, uDeg: u, kind: 'mark' }], warnings: [said] }
}
