import * as z from 'zod'
import type { DriveFigures } from '#core/decide/drive/drive-figures'
import { driveFigures } from '#core/report/drive-figures'
import type { Result } from '#core/report/result-schema'
import { oneLine } from '#core/quantity/one-line'

const finite = z.number()
const interval = z.object({ value: finite, low: finite, high: finite })

/** What a note keeps of a test for machines to read: enough to find a motor for a requirement. Angles deg at the shaft. */
export const noteFiguresSchema = z.object({
  motor: z.string(),
  stepsPerRev: z.int().min(1).max(1e6),
  microsteps: z.int().min(1).max(1e6),
  recommended: finite.nullable(),
  effective: interval,
  peakToPeakDeg: finite,
  merged: finite.nullable(),
  modes: z.array(
    z.object({
      microsteps: z.int().min(1),
      verdict: z.enum(['holds', 'fails', 'not proven']).nullable(),
      effective: interval.nullable(),
      largestIncrement: finite.nullable(),
    }),
  ),
  reversalDeg: finite.nullable(),
  markUDeg: finite.nullable(),
  input: z.string().nullable(),
})

export type NoteFigures = z.infer<typeof noteFiguresSchema>

const short = (value: number): number => Number(value.toPrecision(6))

const rounded = ({ value, low, high }: z.infer<typeof interval>): z.infer<typeof interval> => ({
  value: short(value),
  low: short(low),
  high: short(high),
})

/** The part of a result that a note keeps for machines, six significant digits each. */
export const noteFiguresOf = (result: Result): NoteFigures => {
  const drive = driveFigures(result)
  return {
    motor: oneLine(result.motor.name),
    stepsPerRev: result.motor.stepsPerRev,
    microsteps: result.motor.microsteps,
    recommended: result.recommendation.microsteps,
    effective: rounded(result.figures.effectiveMicrosteps),
    peakToPeakDeg: short(result.figures.positionErrorPeakToPeakDeg),
    merged: result.figures.merged,
    modes: drive.modes.map(({ microsteps, verdict, effective, largestIncrement }) => ({
      microsteps,
      verdict,
      effective: effective && rounded(effective),
      largestIncrement: largestIncrement === null ? null : short(largestIncrement),
    })),
    reversalDeg: drive.reversalDeg,
    markUDeg: drive.markUDeg,
    input: result.input.sha256,
  }
}

/** What a drive train needs, back from a note. */
export const driveFiguresOfNote = ({ modes, reversalDeg, markUDeg }: NoteFigures): DriveFigures => ({
  modes,
  reversalDeg,
  markUDeg,
})

/** One line that fits into an HTML comment: no "--" and no ">" can stand in it. */
export const figuresLine = (figures: NoteFigures): string =>
  `<!-- stepwitness figures ${JSON.stringify(figures).replace(/-(?=-)|[<>&\u2028\u2029]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`)} -->`

const parse = (text: string): NoteFigures | null => {
  try {
    return noteFiguresSchema.parse(JSON.parse(text))
  } catch {
    return null
  }
}

/** The figures kept in a block, or null when there are none that can be read. */
export const figuresInBlock = (block: string): NoteFigures | null => {
  const [, text] = /<!-- stepwitness figures (\{.*\}) -->/.exec(block) ?? []
  return text === undefined ? null : parse(text)
}
