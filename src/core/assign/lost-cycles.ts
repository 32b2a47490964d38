import { extremes } from '#core/numeric/moments'
import { medianOrZero } from '#core/numeric/median'

/** A place in a run where all later marks stand off by full steps. */
export interface Shift {
  /** Command at which it shows. */
  readonly command: number
  /** Full steps the shaft is ahead (+) or behind (−) of its commands afterwards. */
  readonly fullSteps: number
  /** Whole electrical cycles lost (−) or gained (+) when that explains it; null when it does not. */
  readonly cycles: number | null
}

/** Less than this is a rest position, not a lost one; how near to a multiple of four a slip must come. Full steps. */
const least = 1.5
const tolerance = 0.75
/** Share of a shift that must show within one full step either side; a bend of the rig comes slowly. */
const sharpness = 0.6

/** A motor that loses step falls back to a rest of the same kind: four full steps, or a multiple, away. */
export const cyclesIn = (fullSteps: number): number | null => {
  const cycles = Math.round(fullSteps / 4)
  return cycles !== 0 && Math.abs(fullSteps - 4 * cycles) <= tolerance ? cycles : null
}

/** Level of the errors just before and just after each command, over at most one electrical cycle. */
const stepAt = (errors: readonly number[], k: number, window: number): number =>
  medianOrZero(errors.slice(k, k + window)) - medianOrZero(errors.slice(Math.max(0, k - window), k))

/**
 * The largest shift of the marks against their commands within a run, if it is of 1.5 full steps or more.
 * @param anglesDeg marks, deg, travel positive
 * @param commands the command each of them belongs to, ascending
 * @returns null when every mark keeps up
 */
export const shiftIn = (anglesDeg: readonly number[], commands: readonly number[], { fullStepDeg, microsteps }: { readonly fullStepDeg: number; readonly microsteps: number }): Shift | null => {
  const errors = anglesDeg.map((angle, m) => angle / fullStepDeg - (commands[m] ?? 0) / microsteps)
  const [low, high] = extremes(errors)
  if (high - low < least) return null
  const window = Math.min(4 * microsteps, errors.length >> 1)
  let found = { place: 0, fullSteps: 0 }
  for (let k = 1; k < errors.length; k++) {
    const step = stepAt(errors, k, window)
    const sharper = Math.abs(step) > Math.abs(found.fullSteps) + 0.25
    const sameButSteeper = Math.abs(Math.abs(step) - Math.abs(found.fullSteps)) <= 0.25 && riseAt(errors, k) > riseAt(errors, found.place)
    if (sharper || sameButSteeper) found = { place: k, fullSteps: step }
  }
  const sharp = Math.abs(stepAt(errors, found.place, Math.min(window, Math.max(2, microsteps))))
  if (Math.abs(found.fullSteps) < least || sharp < sharpness * Math.abs(found.fullSteps)) return null
  return { command: commands[found.place] ?? 0, fullSteps: found.fullSteps, cycles: cyclesIn(found.fullSteps) }
}

const riseAt = (errors: readonly number[], k: number): number => (k === 0 ? 0 : Math.abs((errors[k] ?? 0) - (errors[k - 1] ?? 0)))

/** What a shift means and what to do, one sentence. */
export const shiftSentence = ({ command, fullSteps, cycles }: Shift): string => {
  const size = `${Math.abs(fullSteps).toFixed(1)} full steps ${fullSteps < 0 ? 'behind' : 'ahead of'} their commands`
  if (cycles !== null)
    return `From about command ${command} on the marks stand ${size}, a multiple of four: the motor lost ${Math.abs(cycles) === 1 ? 'an electrical cycle' : `${Math.abs(cycles)} electrical cycles`} there (pushed by hand, stepped too fast, or the load too high). The figures hold for each side, not across it; repeat the run.`
  return `From about command ${command} on the marks stand ${size}. A motor that loses step does so by four full steps or a multiple, so this is a mark left out, a wrong number or a paper that slipped.`
}
