import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { writeNumber } from '#core/quantity/write-number'
import type { AssignOptions } from './assignment.ts'
import type { OrderedRun } from './order-run.ts'
import { stepsInOrder } from './other-steps.ts'
import { restsIn } from './span.ts'

/** What else may be wrong where one mark each is expected: marks off a photo have no numbers and no order to give them by. */
const ownCure = ({ marks }: OrderedRun, { ordered }: AssignOptions): string =>
  !ordered ? ', or on the overlay whether marks are missing or something else was read' : marks.every(({ command }) => command !== null) ? ', or the numbers in the command column' : ', or number the marks in a command column'

const greatestCommon = (a: number, b: number): number => (b === 0 ? a : greatestCommon(b, a % b))

/** By how much the command numbers count on from mark to mark, at least; 1 where not all marks carry one. */
const countedBy = ({ marks }: OrderedRun): number => {
  const numbers = marks.map(({ command }) => command)
  if (numbers.some((number) => number === null)) return 1
  return Math.max(1, numbers.reduce((common: number, number) => greatestCommon(common, Math.abs((number ?? 0) - (numbers[0] ?? 0))), 0))
}

const orMicrosteps = (number: number): string => (Math.abs(number - Math.round(number)) < 1e-6 ? `, or ${Math.round(number)} microsteps per full step` : '')

/** What to say when marks and commands cannot be brought together. */
export const cannotFit = (run: OrderedRun, options: AssignOptions, commands: number, shifted: readonly string[] = []): Unmeasurable => {
  const span = run.anglesDeg.at(-1) ?? 0
  const spanned = span / options.microstepDeg
  const often = Math.round(restsIn(run) / (commands + 1))
  const again = often > 1 && options.ordered ? `about ${often} marks for each command: number them in a command column, and repeated runs in a pass column (or measure each pass by itself); else ` : ''
  const steps = stepsInOrder(run, options.microsteps)
  const stated = 360 / options.microstepDeg / options.microsteps
  const instead = steps === null || Math.abs(steps / stated - 1) < 1e-6 ? '' : ` (one command each would be a motor of ${steps} steps per turn${orMicrosteps((steps * options.microsteps) / stated)})`
  const by = countedBy(run)
  const finer = by > 1 && Math.abs(spanned * by - commands) <= 0.05 * commands ? `the command numbers count by ${by} where the shaft moved one microstep: number the commands 0, 1, 2 …; else ` : ''
  const seen = instead || finer ? '' : shifted.map((sentence) => ` (${sentence.replace(/\.$/, '')})`).join('')
  return unmeasurable(
    `the marks span ${writeNumber(span, 4)}° at the shaft, which is ${writeNumber(spanned, 4)} microsteps of ${writeNumber(options.microstepDeg, 4)}°, but there are ${restsIn(run)} marks for ${commands} commands${seen}`,
    'the marks',
    `${again}${finer}check steps per revolution${instead}, microsteps, the unit and the rig${again ? '' : ownCure(run, options)}`,
  )
}
