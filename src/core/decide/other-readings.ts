import { isFoot, rereadRests, type SlowErrors, type TravelStart } from '#core/rig/slow-errors'
import type { FullStepPhase } from './full-step-phase.ts'
import type { OtherReading } from './mode-increments.ts'

/** Rests by another counting of the commands. @param names of the marks that, numbered by hand, would settle it */
export const otherCounting = (anglesDeg: readonly number[], names: readonly string[]): OtherReading => {
  const marks = names.length === 0 ? 'the marks' : `${names.length === 1 ? 'mark' : 'marks'} ${names.join(', ')}`
  return { anglesDeg, supposed: 'with a counting of the commands that the marks allow nearly as well', toSettle: `write the command number beside ${marks}` }
}

/** The same rests with the full steps on other commands. @param phase where nobody said which they are */
export const withFullSteps = (anglesDeg: readonly number[], { place, command, decidedBy, otherPlace }: FullStepPhase): OtherReading[] =>
  otherPlace === null || otherPlace === place
    ? []
    : [{ anglesDeg, fullStepPlace: otherPlace, supposed: `with full steps counted from command ${command - place + otherPlace}${decidedBy === 'fit' ? ', the start' : ', where they come out most even'}`, toSettle: 'give full-step-command, a command that stands on a full step,' }]

/** Half width of a rectangle in standard deviations. */
const edge = Math.sqrt(3)

/**
 * Rests with the foot of the perpendicular at either edge of where it may lie: the angle that a millimetre stands for follows
 * the foot, and with it every increment.
 * @param anglesDeg rests 0 … K, travel positive
 * @param start located angle of rest 0 and the sense of travel there
 */
export const withFeet = (anglesDeg: readonly number[], slow: SlowErrors, start: TravelStart): OtherReading[] =>
  [-edge, edge].map((side) => ({
    anglesDeg: rereadRests(anglesDeg, slow, start, slow.lengths.map((length) => (isFoot(length) ? side * length.uMm : 0))),
    supposed: 'with the foot of the perpendicular elsewhere within the trace',
    toSettle: 'measure the foot of the perpendicular',
  }))
