import { onOnePaper } from '#core/assign/paper-frame'
import { markName } from '#core/assign/mark-name'
import { asLeftOut } from '#core/assign/rests'
import { countedOtherwise } from '#core/assign/runs'
import { creptOnMarks } from '#core/figures/crept-on-marks'
import { countOfPattern } from '#core/figures/cycle-wander'
import { figuresOf, roughFigures } from '#core/figures/figures'
import { meanRun } from '#core/figures/mean-run'
import { incrementU } from '#core/figures/motion'
import { corrected, type Straight, type StraightenInput } from '#core/figures/straighten'
import type { Trace } from '#core/ingest/trace'
import { rms } from '#core/numeric/moments'
import type { OtherReading } from './mode-increments.ts'
import { otherCounting, withFeet } from './other-readings.ts'

/** Every way to read the marks that they allow, or nearly. */
export interface WaysToRead {
  /** Rests 0 … K, deg, in each way the jumps can be read. */
  readonly readings: readonly (readonly number[])[]
  /** The same under other suppositions that are nearly as likely. */
  readonly others: readonly OtherReading[]
  /** N_eff by the other countings, and by the most the shaft may have crept unseen where commands share a mark. */
  readonly otherCounts: readonly number[]
}

/** Rests by jumps read first and last, and with the marks that were perhaps left out between their neighbours. */
const jumpsRead = (anglesDeg: readonly number[], lateDeg: readonly number[] | null, leftOut: readonly number[]): (readonly number[])[] => [
  anglesDeg,
  ...(lateDeg ? [lateDeg] : []),
  ...(leftOut.length > 0 ? [asLeftOut(anglesDeg, leftOut)] : []),
]

/** Must the foot of the perpendicular be supposed, as nobody measured it and the trace is too short to show it? */
export const footIsOpen = ({ rig }: Trace, { lengths }: Straight): boolean => rig.kind === 'mirror' && rig.footMm === null && lengths.length === 0

/** No verdict may hang on which of these is true. */
export const waysToRead = ({ trace, located, run, passes: { main } }: StraightenInput, straight: Straight): WaysToRead => {
  const { anglesDeg, lateDeg, errorsDeg, correctionDeg, wanders, known } = straight
  const { stepsPerRev, microsteps } = trace.motor
  const open = (leftOut: readonly number[]): readonly number[] => (main.repeated ? [] : leftOut)
  const counted = countedOtherwise(run, located.turnDeg).flatMap((other) => {
    const { earlyDeg, lateDeg: last } = meanRun([...onOnePaper([other], other, located.turnDeg), ...main.runs.slice(1)])
    return jumpsRead(corrected(earlyDeg, correctionDeg), main.jumpsUnknown ? corrected(last, correctionDeg) : null, open(other.assignment.perhapsLeftOut))
  })
  const feet = footIsOpen(trace, straight) ? withFeet(anglesDeg, located.slow, run.ordered) : []
  const microstepDeg = 360 / stepsPerRev / microsteps
  const crept = creptOnMarks(anglesDeg, { expandedDeg: incrementU(rms(known.uDeg), known.coverageFactor), microstepDeg })
  const counts = counted.map((angles) => roughFigures({ ...known, anglesDeg: angles }).effectiveMicrosteps.value)
  const effective = [...(crept ? [figuresOf({ ...known, anglesDeg: crept }).effectiveMicrosteps.high] : []), ...counts]
  const toSettle = run.ordered.marks.filter(({ line }) => run.assignment.labelsToSettle.includes(line)).map(markName)
  return {
    readings: jumpsRead(anglesDeg, main.jumpsUnknown ? lateDeg : null, open(run.assignment.perhapsLeftOut)),
    others: [...feet, ...counted.map((angles) => otherCounting(angles, toSettle))],
    otherCounts: wanders ? [...effective, countOfPattern(errorsDeg, { microsteps, microstepDeg })] : effective,
  }
}
