import { twoDigits } from '#core/quantity/write-number'
import { decimalsBetween, fixed, plainNumber, valueAndInterval, valueAndU, withUnit } from './number-text.ts'
import type { Result } from './result-schema.ts'

/** A figure as a person reads it. */
export interface KeyFigure {
  readonly name: string
  /** Value with uncertainty and unit. */
  readonly text: string
  /** What it means, in a few words. */
  readonly meaning: string
}

type Sizes = NonNullable<Result['figures']['sizeIntervals']>

/** "5.92° (5.41 to 6.12)": what was found, and between what the motor's own lies; the other reading of the jumps where it shows. */
const sized = (figures: Result['figures'], name: keyof Sizes, unit: string): string => {
  const value = figures[name]
  const [low, high] = figures.sizeIntervals?.[name] ?? [value, value]
  const write = (number: number): string => (high > low ? fixed(number, decimalsBetween(low, high)) : plainNumber(number))
  const found = `${withUnit(write(value), unit)}${high > low ? ` (${write(low)} to ${write(high)})` : ''}`
  const last = write({ ...figures, ...figures.jumpsLast }[name])
  return last === write(value) ? found : `${found}, or ${withUnit(last, unit)} if every merged run jumps at its last command`
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
  const { figures, assignment } = result
  return [
    { name: 'position error, peak to peak', text: sized(figures, 'positionErrorPeakToPeakDeg', '°'), meaning: `${plainNumber(figures.positionErrorPeakToPeakPercentFullStep, 3)} % of a full step, at the shaft` },
    { name: 'position error, peak', text: sized(figures, 'positionErrorPeakDeg', '°'), meaning: `${plainNumber(figures.positionErrorPeakMicrosteps, 3)} microsteps from the mean, over commands 1 to ${assignment.commands}` },
    { name: 'position error, rms', text: sized(figures, 'positionErrorRmsDeg', '°'), meaning: 'root mean square over the same commands, with the scatter of the marks in it' },
    { name: 'largest increment error', text: sized(figures, 'incrementErrorMaxMicrosteps', 'microsteps'), meaning: 'the most one command missed its nominal microstep by' },
    { name: 'largest increment', text: sized(figures, 'largestIncrementDeg', '°'), meaning: 'what one command may move the shaft by' },
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
    { name: 'mark uncertainty u', text: withUnit(twoDigits(uncertainty.markDeg), '°'), meaning: uncertainty.resolvablePerFullStep === null ? 'standard uncertainty of one mark, at the shaft' : `standard uncertainty of one mark; the rig tells apart about ${plainNumber(uncertainty.resolvablePerFullStep, 2)} positions per full step` },
  ]
}
