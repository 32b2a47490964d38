import type { DetectedMark, Detection } from '#core/detect/detection'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { traceFrom } from './read-trace.ts'
import type { SetUp } from './set-up.ts'
import type { Trace, TraceMark } from './trace.ts'

/** What the code on a printed sheet says, as a set-up. */
const sheetSetUp = ({ sheet }: Detection): SetUp => {
  if (!sheet) return {}
  const length = sheet.lengthMm === null ? {} : sheet.rig === 'mirror' ? { distanceMm: { value: sheet.lengthMm, u: 0 } } : { radiusMm: { value: sheet.lengthMm, u: 0 } }
  return {
    ...(sheet.motor === null ? {} : { motor: sheet.motor }),
    ...(sheet.stepsPerRev === null ? {} : { stepsPerRev: sheet.stepsPerRev }),
    ...(sheet.microsteps === null ? {} : { microsteps: sheet.microsteps }),
    ...length,
  }
}

const traceMark = (mark: DetectedMark, i: number, strip: boolean): TraceMark => ({
  line: i + 1,
  position: (strip ? mark.positionMm : mark.angleDeg) ?? Number.NaN,
  command: null,
  tally: null,
  pass: 1,
  direction: null,
  note: '',
  u: strip ? mark.uPosition : mark.uDeg,
  multiplicity: mark.multiplicity,
})

/** What all marks of a photo share, deg; nothing on a strip. */
export const commonOf = ({ rig, centreUDeg, rectificationUDeg }: Detection): Trace['common'] =>
  [
    { source: 'centre', uDeg: centreUDeg },
    { source: 'rectification', uDeg: rectificationUDeg },
  ].flatMap(({ source, uDeg }) => (uDeg === null || rig === 'mirror' ? [] : [{ source, uDeg }]))

/**
 * Marks found in a photo → trace. Angles counter-clockwise as seen; the marks have no order of their own.
 * @param options set-up given beside the photo; it wins over what a printed sheet's code says
 */
export const traceFromDetection = (detection: Detection, options: SetUp = {}): Trace | Unmeasurable => {
  const strip = detection.rig === 'mirror'
  const marks = detection.marks.map((mark, i) => traceMark(mark, i, strip))
  if (marks.some((mark) => Number.isNaN(mark.position)))
    return unmeasurable('the scale of the strip is not known', 'the photo', 'put a ruler beside the marks or use the printed strip, or type the positions in mm')
  const setUp: SetUp = { ...sheetSetUp(detection), ...options, rig: strip ? 'mirror' : 'pointer', unit: strip ? 'mm' : 'deg' }
  return traceFrom({ marks, lastDigit: 0, common: commonOf(detection), ordered: false, warnings: [...detection.doubts] }, setUp)
}
