import { normal, seededRandom } from '#core/numeric/seeded-random'

/** What a simulated trace suffers between rest position and number. Zero for what is left out. */
export interface Marking {
  /** Standard deviation of one mark, degrees at the shaft. */
  readonly uDeg?: number
  /** Standard deviation of the teeth's own places, degrees at the shaft: one value per full step of the turn, the same every time it comes by. */
  readonly toothScatterDeg?: number
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly seed: number
}

/**
 * Simulated rest angles (degrees) as marked: tooth-to-tooth scatter by full step of the turn, then marking noise, both
 * normal. The same seed gives the same teeth and the same marks; `commands` says which full step each rest belongs to.
 */
export const markRests = (rests: ArrayLike<number>, commands: readonly number[], marking: Marking): Float64Array => {
  const random = seededRandom(marking.seed)
  const { stepsPerRev, microsteps, toothScatterDeg = 0, uDeg = 0 } = marking
  const teeth = Array.from({ length: stepsPerRev }, () => toothScatterDeg * normal(random))
  const toothOf = (command: number): number => {
    const fullStep = Math.round(command / microsteps) % stepsPerRev
    return teeth[(fullStep + stepsPerRev) % stepsPerRev] ?? 0
  }
  return Float64Array.from(commands, (command, i) => (rests[i] ?? Number.NaN) + toothOf(command) + uDeg * normal(random))
}
