import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import { standardDeviation } from '#core/numeric/moments'

/** Where the full steps lie among the commands. */
export interface FullStepPhase {
  /** Lowest command of the trace that stands on a full step. */
  readonly command: number
  /** Its place among the rests. */
  readonly place: number
  readonly decidedBy: 'given' | 'start' | 'fit'
  /** Another place that no verdict may hang on: the one whose full steps come out most even, or the start; null where it was given. */
  readonly otherPlace: number | null
}

/** How rarely chance makes one of N phases so much more even than the start. */
const significance = 0.001

/** The first rest on the full steps of command 0, where there is one: of a run that counts down below it the first rest is the last made. */
const startOf = (firstCommand: number, rests: number, microsteps: number): number => (firstCommand < 0 && firstCommand + rests > 0 ? -firstCommand % microsteps : 0)

/**
 * A command that stands on a full step: given, else the start (command 0, or the first one), for a run begins where the driver was switched on; the one of
 * the first N whose full steps come out most even where they do so beyond chance. Evenness alone says little: fourth-order detent
 * leaves full steps even at any phase, and phases not at 90° make them most even half a step off. In
 * simulated runs that began on a full step it was one of them in 28 of 118.
 * @param rests angles in deg and the command of the first of them
 * @param given a command known to stand on a full step; null when none is
 */
export const fullStepPhase = ({ anglesDeg, firstCommand }: { readonly anglesDeg: readonly number[]; readonly firstCommand: number }, microsteps: number, given: number | null): FullStepPhase => {
  const at = (place: number, decidedBy: FullStepPhase['decidedBy'], otherPlace: number | null): FullStepPhase => ({ place, command: firstCommand + place, decidedBy, otherPlace })
  if (given !== null) return at((((given - firstCommand) % microsteps) + microsteps) % microsteps, 'given', null)
  const start = startOf(firstCommand, anglesDeg.length, microsteps)
  if (anglesDeg.length <= 3 * microsteps) return at(start, 'start', null)
  const variances = Array.from({ length: microsteps }, (_, place) => {
    const steps = []
    for (let k = place + microsteps; k < anglesDeg.length; k += microsteps) steps.push((anglesDeg[k] ?? 0) - (anglesDeg[k - microsteps] ?? 0))
    return standardDeviation(steps) ** 2
  })
  const atStart = variances[start] ?? 0
  const least = Math.min(...variances)
  const evenest = variances.findIndex((variance) => variance <= least * (1 + 1e-6) + 1e-15)
  const freedom = Math.floor((anglesDeg.length - 1) / microsteps) - 1
  const beyondChance = evenest !== start && atStart > least * fQuantile(1 - significance / microsteps, freedom, freedom)
  return beyondChance ? at(evenest, 'fit', start) : at(start, 'start', evenest)
}
