import { standardDeviation } from '#core/numeric/moments'

/** Where the full steps lie among the commands. */
export interface FullStepPhase {
  readonly command: number
  readonly decidedBy: 'given' | 'fit'
}

/**
 * A command that stands on a full step: given, or the one of the first N whose full steps come out most even.
 * Ties go to the earliest. A trace with fewer than three full steps is taken to start on one.
 * @param anglesDeg rests 0 … K, deg
 */
export const fullStepPhase = (anglesDeg: readonly number[], microsteps: number, given: number | null): FullStepPhase => {
  if (given !== null) return { command: given % microsteps, decidedBy: 'given' }
  if (anglesDeg.length <= 3 * microsteps) return { command: 0, decidedBy: 'fit' }
  const spreads = Array.from({ length: microsteps }, (_, start) => {
    const steps = []
    for (let k = start + microsteps; k < anglesDeg.length; k += microsteps) steps.push((anglesDeg[k] ?? 0) - (anglesDeg[k - microsteps] ?? 0))
    return standardDeviation(steps)
  })
  const least = Math.min(...spreads)
  return { command: spreads.findIndex((spread) => spread <= least * (1 + 1e-6) + 1e-9), decidedBy: 'fit' }
}
