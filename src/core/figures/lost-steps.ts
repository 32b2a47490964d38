import { type CountingSlip, countingSlip } from '#core/assign/counting-slip'
import { shiftIn } from '#core/assign/lost-cycles'

interface LostOptions {
  readonly microsteps: number
  readonly microstepDeg: number
}

/** Place from which all rests stand a whole microstep ahead of their commands or behind; null where they keep up. */
const offByOne = (anglesDeg: readonly number[], { microsteps, microstepDeg }: LostOptions): CountingSlip | null =>
  countingSlip(anglesDeg.map((angle) => (angle - (anglesDeg[0] ?? 0)) / microstepDeg), { microsteps, bend: 0 })

/** Do marks fall off their commands by full steps? That is named where marks and commands are brought together, and no command was lost. */
export const isGross = (anglesDeg: readonly number[], commands: readonly number[], { microsteps, microstepDeg }: LostOptions): boolean =>
  shiftIn(anglesDeg, commands, { fullStepDeg: microsteps * microstepDeg, microsteps }) !== null

/** Lost electrical cycles and lost commands are no fault of the rig: nothing that is fitted across them is worth anything. */
export const lostIn = (anglesDeg: readonly number[], options: LostOptions): boolean =>
  isGross(anglesDeg, anglesDeg.map((_, k) => k), options) || offByOne(anglesDeg, options) !== null

/** What to say of a command that went missing on the way to the motor. @param commands of rests 0 … K */
export const lostCommand = (anglesDeg: readonly number[], commands: readonly number[], options: LostOptions): string[] => {
  const slip = offByOne(anglesDeg, options)
  if (!slip) return []
  const [way, why] = slip.kind === 'doubled' ? ['behind', 'lost'] : ['ahead of', 'made twice']
  return [`From about command ${commands[slip.place]} on all marks stand one microstep ${way} their commands: one was ${why} there (driver, wire or controller; the motor itself stays in step), or the numbers slipped by one. The figures take the marks as they stand.`]
}
