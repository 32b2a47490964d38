import { plainNumber, valueAndInterval, valueAndU, withUnit } from './number-text.ts'
import type { Result } from './result-schema.ts'

/** A figure as a person reads it. */
export interface KeyFigure {
  readonly name: string
  /** Value with uncertainty and unit. */
  readonly text: string
  /** What it means, in a few words. */
  readonly meaning: string
}

/**
 * Expanded uncertainties of figures that rest on single marks, deg: a peak stands on one mark, a peak-to-peak and an
 * increment on two, an rms on all of them; what all marks share is added once (JCGM 100, equation 10), or scales an increment. That a
 * peak is picked from many marks makes it read somewhat large, which these do not cover.
 */
export const expandedOf = ({ uncertainty: { markDeg, commonDeg, coverageFactor, incrementScale }, rests, figures: { largestIncrementDeg } }: Result): { readonly oneDeg: number; readonly twoDeg: number; readonly rmsDeg: number; readonly incrementDeg: number } => ({
  oneDeg: coverageFactor * Math.hypot(markDeg, commonDeg),
  twoDeg: coverageFactor * Math.hypot(Math.SQRT2 * markDeg, commonDeg),
  rmsDeg: coverageFactor * Math.hypot(markDeg / Math.sqrt(Math.max(1, rests.length - 1)), commonDeg),
  incrementDeg: coverageFactor * Math.hypot(Math.SQRT2 * markDeg, incrementScale * largestIncrementDeg),
})

/** "0.81 ± 0.10 °", and the other reading of the jumps where it differs. */
const angle = (value: number, expanded: number, last?: number): string => {
  const text = withUnit(valueAndU(value, expanded), '°')
  return last === undefined || Math.abs(last - value) < 1e-9 ? text : `${text}, or ${withUnit(plainNumber(last, 3), '°')} if every merged run jumps at its last command`
}

const countRows = ({ figures: { merged, reversed, missing }, assignment: { commands } }: Result): KeyFigure[] => {
  if (merged === null || reversed === null || missing === null)
    return [{ name: 'merged, reversed, missing', text: 'not judged', meaning: 'one microstep is smaller than what the marks could have shown' }]
  return [
    { name: 'merged commands', text: `${merged} of ${commands}`, meaning: 'the shaft rests where it was, within U of the marks' },
    { name: 'reversed commands', text: `${reversed} of ${commands}`, meaning: 'the shaft moved backwards, beyond U of the marks' },
    { name: 'missing positions', text: `${missing} of ${commands}`, meaning: 'nominal positions with no rest within half a microstep' },
  ]
}

const sizeRows = (result: Result): KeyFigure[] => {
  const { figures } = result
  const u = expandedOf(result)
  const last = figures.jumpsLast
  const microstepDeg = 360 / result.motor.stepsPerRev / result.motor.microsteps
  return [
    { name: 'position error, peak to peak', text: angle(figures.positionErrorPeakToPeakDeg, u.twoDeg, last?.positionErrorPeakToPeakDeg), meaning: `${plainNumber(figures.positionErrorPeakToPeakPercentFullStep, 3)} % of a full step, at the shaft` },
    { name: 'position error, peak', text: angle(figures.positionErrorPeakDeg, u.oneDeg, last?.positionErrorPeakDeg), meaning: `${plainNumber(figures.positionErrorPeakMicrosteps, 3)} microsteps from the mean, over commands 1 to ${result.assignment.commands}` },
    { name: 'position error, rms', text: angle(figures.positionErrorRmsDeg, u.rmsDeg, last?.positionErrorRmsDeg), meaning: 'root mean square over the same commands' },
    { name: 'largest increment error', text: withUnit(valueAndU(figures.incrementErrorMaxMicrosteps, u.incrementDeg / microstepDeg), 'microsteps'), meaning: 'the most one command missed its nominal microstep by' },
    { name: 'largest increment', text: withUnit(valueAndU(figures.largestIncrementDeg, u.incrementDeg), '°'), meaning: 'what one command may move the shaft by' },
  ]
}

const reversalRows = ({ directions, uncertainty }: Result): KeyFigure[] =>
  directions === null
    ? []
    : [{ name: 'reversal value, mean', text: withUnit(valueAndU(directions.reversalDeg, uncertainty.coverageFactor * directions.reversalUDeg), '°'), meaning: 'forward minus backward at the same command' }]

const gapEffectiveText = ({ gapEffectiveMicrosteps: value, gapEffectiveInterval: interval }: Result['figures']): string =>
  value === null || interval === null ? plainNumber(value, 3) : valueAndInterval({ value, low: interval[0], high: interval[1] })

/** The figures a person should see first, each with uncertainty and unit. */
export const keyFigures = (result: Result): readonly KeyFigure[] => {
  const { figures, motor, uncertainty } = result
  const { effectiveMicrosteps } = figures
  return [
    { name: 'effective microsteps per full step', text: valueAndInterval(effectiveMicrosteps), meaning: `of ${motor.microsteps} commanded; 95 % interval, ${effectiveMicrosteps.method}` },
    { name: 'gap-effective microsteps', text: gapEffectiveText(figures), meaning: 'for a controller that knew every rest position; 95 % interval' },
    { name: 'distinct positions per full step', text: plainNumber(figures.distinctPerFullStep, 3), meaning: 'rest positions that can be told apart' },
    ...sizeRows(result),
    ...countRows(result),
    ...reversalRows(result),
    { name: 'mark uncertainty u', text: withUnit(plainNumber(uncertainty.markDeg, 2), '°'), meaning: uncertainty.resolvablePerFullStep === null ? 'standard uncertainty of one mark, at the shaft' : `standard uncertainty of one mark; the rig tells apart about ${plainNumber(uncertainty.resolvablePerFullStep, 2)} positions per full step` },
  ]
}
