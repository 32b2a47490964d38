import { type PaceEvent, scheduleOf } from './schedule-of.ts'
import type { PaceSetup } from './pace-setup.ts'

/** How a machine controller is to turn the shaft. */
export interface GcodeAxis {
  /** Axis letter, A to C for a turning axis in deg, or one of X Y Z U V W. */
  readonly letter: string
  /** Axis units per turn of the motor's shaft: 360 for a turning axis. */
  readonly unitsPerTurn: number
}

/** Comment text: no brackets, no line ends, plain characters only, so that a name cannot become a command. */
const remark = (text: string): string =>
  `(${text
    .replace(/[^ -~]/g, '?')
    .replace(/[()]/g, '')
    .trim()})`

const place = (value: number): string => {
  const text = value.toFixed(6).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

const lines = (event: PaceEvent, { letter, unitsPerTurn }: GcodeAxis, setup: PaceSetup): readonly string[] => {
  const unit = (setup.direction * unitsPerTurn) / setup.stepsPerRev / setup.microsteps
  const feed = place(Math.abs(unit) * setup.rate * 60)
  const pause = `G4 P${place(setup.settleS + setup.dwellS)}`
  if (event.kind === 'cool')
    return [remark(`current off for ${event.seconds} s`), 'M18', `G4 P${place(event.seconds)}`, 'M17']
  if (event.kind === 'run') return [remark(event.why), `G1 ${letter}${place(event.to * unit)} F${feed}`]
  const tag = `pass ${event.pass} ${event.direction > 0 ? '+' : '-'} command ${event.command}`
  return [`G1 ${letter}${place(event.command * unit)} F${feed} ${remark(tag)}`, pause]
}

/**
 * The run as G-code: absolute places from the start mark (so rounding never adds up), one move and one dwell (G4 P in seconds)
 * per mark, the mark's name in the comment. Only G1, G4, G90, G92, G94 and M17, M18, M2 are used.
 * @throws RangeError for an axis letter outside A B C U V W X Y Z or units that are not above zero
 */
export const gcodeText = (setup: PaceSetup, axis: GcodeAxis): string => {
  if (!/^[ABCUVWXYZ]$/.test(axis.letter) || !(axis.unitsPerTurn > 0))
    throw new RangeError(
      `expected an axis letter and units per turn above zero, got ${axis.letter} and ${axis.unitsPerTurn}`,
    )
  return [
    remark(
      `motor ${setup.motor}: ${setup.stepsPerRev} steps per turn, 1/${setup.microsteps} steps, ${setup.commands} commands`,
    ),
    remark(
      `one command is ${place(axis.unitsPerTurn / setup.stepsPerRev / setup.microsteps)} units of axis ${axis.letter}; G4 P counts seconds; check both on your controller`,
    ),
    'G90',
    'G94',
    'M17',
    `G92 ${axis.letter}0`,
    ...scheduleOf(setup).flatMap((event) => lines(event, axis, setup)),
    'M18',
    'M2',
    '',
  ].join('\n')
}
