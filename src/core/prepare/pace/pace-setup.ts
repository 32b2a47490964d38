import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { writeNumber } from '#core/quantity/write-number'

/** How a run is to be stepped. */
export interface PaceSetup {
  /** Name of the motor, as typed; any characters. */
  readonly motor: string
  readonly stepsPerRev: number
  readonly microsteps: number
  /** K, commands of one pass; marks are made at commands 0 … K. */
  readonly commands: number
  readonly passes: number
  readonly bothWays: boolean
  /** Sense of rotation of the first pass: 1 or −1 times the commanded index. */
  readonly direction: 1 | -1
  /** Time for the shaft to come to rest before a mark is made, s. */
  readonly settleS: number
  /** Time to make the mark, s. */
  readonly dwellS: number
  /** Commands of the run-up that takes up friction and play before each pass and each return. */
  readonly runUp: number
  /** Commands per second while nothing is marked. */
  readonly rate: number
  /** Pause with the current off between passes, s; 0 for none. */
  readonly coolS: number
  /** Longest time under current that is allowed without such a pause, s. */
  readonly energisedLimitS: number
}

/** Longest time at one mark, s: the motor takes full current standing still. */
export const longestDwellS = 60

/** Time under current of one pass, s, run-up included. */
export const passSeconds = ({ commands, bothWays, settleS, dwellS, runUp, rate }: Pick<PaceSetup, 'commands' | 'bothWays' | 'settleS' | 'dwellS' | 'runUp' | 'rate'>): number => {
  const ways = bothWays ? 2 : 1
  return ways * ((commands + 1) * (settleS + dwellS) + (2 * runUp + commands) / rate)
}

const whole = (value: number, least: number): boolean => Number.isInteger(value) && value >= least

/**
 * What is wrong with a run for the motor's sake, or null: a mark held longer than 60 s, a pass (or, without cooling, the whole
 * run) under current for longer than the limit.
 * @throws RangeError for numbers that are no run at all
 */
export const checkPace = (setup: PaceSetup): Unmeasurable | null => {
  const { commands, passes, runUp, rate, settleS, dwellS, coolS, energisedLimitS } = setup
  if (!whole(commands, 1) || !whole(passes, 1) || !whole(runUp, 0) || !(rate > 0) || !(settleS >= 0) || !(dwellS >= 0))
    throw new RangeError(
      `expected whole commands, passes and run-up and a rate above zero, got ${JSON.stringify({ commands, passes, runUp, rate, settleS, dwellS })}`,
    )
  if (settleS + dwellS > longestDwellS)
    return unmeasurable(
      `${writeNumber(settleS + dwellS)} s at each mark would heat the motor at full standing current`,
      'dwell',
      `stay at or below ${longestDwellS} s`,
    )
  const energised = passSeconds(setup) * (coolS > 0 ? 1 : passes)
  return energised > energisedLimitS
    ? unmeasurable(
        `${writeNumber(energised / 60, 3)} minutes under current without a pause`,
        'dwell',
        `shorten the dwell, cover fewer commands, let it cool between passes, or raise the limit of ${writeNumber(energisedLimitS / 60, 3)} minutes if the motor stays cool to the touch`,
      )
    : null
}
