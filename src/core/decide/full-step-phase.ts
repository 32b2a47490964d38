import { standardDeviation } from '#core/numeric/moments'

/** Where the full steps lie among the commands. */
export interface FullStepPhase {
  /** Lowest command of the trace that stands on a full step. */
  readonly command: number
  /** Its place among the rests. */
  readonly place: number
  readonly decidedBy: 'given' | 'fit'
}

/**
 * A command that stands on a full step: given, or the one of the first N whose full steps come out most even.
 * Ties go to the earliest. A trace with fewer than three full steps is taken to start on one.
 * @param rests angles in deg and the command of the first of them
 * @param given a command known to stand on a full step; null when none is
 */
export const fullStepPhase = ({ anglesDeg, firstCommand }: { readonly anglesDeg: readonly number[]; readonly firstCommand: number }, microsteps: number, given: number | null): FullStepPhase => {
  const at = (place: number, decidedBy: FullStepPhase['decidedBy']): FullStepPhase => ({ place, command: firstCommand + place, decidedBy })
  if (given !== null) return at((((given - firstCommand) % microsteps) + microsteps) % microsteps, 'given')
  if (anglesDeg.length <= 3 * microsteps) return at(0, 'fit')
  const spreads = Array.from({ length: microsteps }, (_, start) => {
    const steps = []
    for (let k = start + microsteps; k < anglesDeg.length; k += microsteps) steps.push((anglesDeg[k] ?? 0) - (anglesDeg[k - microsteps] ?? 0))
    return standardDeviation(steps)
  })
  const least = Math.min(...spreads)
  return at(spreads.findIndex((spread) => spread <= least * (1 + 1e-6) + 1e-9), 'fit')
}
