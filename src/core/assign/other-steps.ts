import { usualSteps } from '#core/quantity/usual-steps'
import { countingMisfit } from './counting-misfit.ts'
import { logWays } from '#core/numeric/log-ways'
import type { OrderedRun } from './order-run.ts'

export interface StepsOptions {
  /** S as stated, and N. */
  readonly stepsPerRev: number
  readonly microsteps: number
  /** Standard uncertainty of a mark, deg; 0 when unknown. */
  readonly uDeg: number
  readonly bend: 0 | 1 | 2
}

/** Another number of steps per turn with which the marks, one command each, make sense. */
export interface OtherSteps {
  readonly stepsPerRev: number
  /** The marks contradict what was stated; false where both readings do. */
  readonly contradicts: boolean
}

/** Log of the odds against the stated number from which it counts as contradicted: it was typed by somebody who may have read it off a plate. */
const contradicted = 6
/** How near the number that would fit exactly a usual one must come; more in a short trace, whose ends may stand off by a microstep. */
const nearest = 0.012
const fewest = 12

/** Do the numbered commands lie alike in every period of so many commands? */
const repeats = (commands: readonly number[], period: number): boolean => {
  const places = new Set(commands.map((command) => command % period))
  const last = commands.at(-1) ?? 0
  return Array.from({ length: last + 1 }, (_, c) => c).filter((c) => places.has(c % period)).length === commands.length
}

/**
 * Natural log of the number of ways to number the marks between the first and the last: of one period's where every full step, pair of
 * them or electrical cycle is numbered alike; none to choose from where every gap is the same.
 */
const choice = (commands: readonly number[], microsteps: number): number => {
  const [last, marks] = [commands.at(-1) ?? 0, commands.length]
  if (isEven(commands)) return 0
  const period = [1, 2, 4].map((steps) => steps * microsteps).find((each) => last >= 2 * each && repeats(commands, each))
  return period === undefined ? logWays(last - 1, marks - 2) : logWays(period, new Set(commands.map((command) => command % period)).size)
}

const isEven = (commands: readonly number[]): boolean => commands.every((command, m) => command * (commands.length - 1) === m * (commands.at(-1) ?? 0))

/** Half of −2 log likelihood with the noise unknown, and what free means and free numbers cost; a repeating pattern only where it pays. */
const costOf = (positionsDeg: readonly number[], commands: readonly number[], microstepDeg: number, { microsteps, bend, uDeg }: StepsOptions): number => {
  const marks = commands.length
  const last = commands.at(-1) ?? 0
  const positions = positionsDeg.map((angle) => angle / microstepDeg)
  const floor = Math.max(uDeg * uDeg, (1e-4 * microstepDeg) ** 2)
  const costWith = (period: number, means: number): number => {
    const misfit = countingMisfit(positions, commands, { microsteps: period, bend }) * microstepDeg ** 2
    return (marks / 2) * Math.log(Math.max(misfit / Math.max(1, marks - means), floor)) + (means / 2) * Math.log(marks)
  }
  const folded = last >= 8 * microsteps ? costWith(microsteps, new Set(commands.map((command) => command % (4 * microsteps))).size) : Number.POSITIVE_INFINITY
  return Math.min(folded, costWith(last + 1, 1)) + choice(commands, microsteps)
}

/** The usual number of steps per turn with which so many marks would be one command each; null where none comes near. */
export const stepsInOrder = (run: OrderedRun, microsteps: number): number | null => {
  const last = run.marks.length - 1
  const wanted = (last * 360) / (run.anglesDeg.at(-1) ?? 0) / microsteps
  if (!(wanted > 0 && Number.isFinite(wanted))) return null
  const off = (steps: number): number => Math.abs(steps / wanted - 1)
  const steps = usualSteps.reduce((best, each) => (off(each) < off(best) ? each : best))
  return off(steps) > Math.max(nearest, 0.75 / last) ? null : steps
}

/**
 * Whether marks whose commands had to be counted would rather be one command each of a motor with another number of steps: in
 * a motor in step the pattern repeats every four full steps, so a wrong number of steps leaves scatter that the right one does not.
 * @param lastCommand the counting with the stated number
 * @returns null where no usual number of steps would fit, or the stated one does clearly better
 */
export const otherSteps = (run: OrderedRun, lastCommand: readonly number[], options: StepsOptions): OtherSteps | null => {
  const { stepsPerRev, microsteps } = options
  const marks = run.marks.length
  if (marks < fewest || lastCommand.length !== marks || run.marks.some(({ multiplicity }) => multiplicity > 1)) return null
  const steps = stepsInOrder(run, microsteps)
  if (steps === null || steps === stepsPerRev) return null
  const inOrder = run.marks.map((_, m) => m)
  const odds = costOf(run.anglesDeg, lastCommand, 360 / stepsPerRev / microsteps, options) - costOf(run.anglesDeg, inOrder, 360 / steps / microsteps, options)
  if (odds > contradicted) return { stepsPerRev: steps, contradicts: true }
  return isEven(lastCommand) && odds > -contradicted ? { stepsPerRev: steps, contradicts: false } : null
}

/** One sentence or two, for a warning. */
export const otherStepsSentence = ({ stepsPerRev, contradicts }: OtherSteps, stated: number, commandsPerMark: number): string =>
  contradicts
    ? `With ${stated} steps per turn the marks fit no counting well; with one command each on a motor of ${stepsPerRev} steps per turn they do. Check steps-per-rev: after so many full steps the shaft must have made exactly one turn; and position-unit, which is deg where nobody says otherwise.`
    : `Every mark holds ${commandsPerMark} commands, which the microsteps of a motor of ${stated} steps per turn do when they merge evenly; one command each on a motor of ${stepsPerRev} steps per turn, or a driver set to fewer microsteps, would look the same. Check both before blaming the motor.`

/** The same as the reason why no mode can be judged. */
export const unsettledSteps = (stated: number): string => `the marks contradict ${stated} steps per turn: settle steps-per-rev first`
