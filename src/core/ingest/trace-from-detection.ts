import type { DetectedMark, Detection } from '#core/detect/detection'
import { mean, rms } from '#core/numeric/moments'
import { degreesFromRadians } from '#core/quantity/angle'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
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
  u: strip ? (mark.uOwnPosition ?? mark.uPosition) : mark.uOwnDeg,
  multiplicity: mark.multiplicity,
})

/** What all marks of a photo share, deg; nothing on a strip. */
export const commonOf = ({ rig, centreUDeg, rectificationUDeg }: Detection): Trace['common'] =>
  [
    { source: 'centre', uDeg: centreUDeg },
    { source: 'rectification', uDeg: rectificationUDeg },
  ].flatMap(({ source, uDeg }) => (uDeg === null || rig === 'mirror' ? [] : [{ source, uDeg }]))

/**
 * What the scale and the perspective of a strip's photo leave in all its angles, deg at the mark: a stretch of the positions by the
 * relative uncertainty, as an rms over the marks, their common shift aside.
 * @param rig wall distance, mm, and beam angle per shaft angle; unknown without a distance
 */
export const stripCommon = ({ marks, rectificationUDeg: relative }: Detection, { distanceMm, ratio }: { readonly distanceMm: number | null; readonly ratio: 1 | 2 }): Trace['common'] => {
  const places = marks.flatMap(({ positionMm }) => (positionMm === null ? [] : [positionMm]))
  if (distanceMm === null || relative === null || relative === 0 || places.length < 2) return []
  const centre = mean(places)
  const uDeg = rms(places.map((x) => degreesFromRadians(Math.atan((relative * (x - centre)) / distanceMm)) / ratio))
  return [{ source: 'scale and perspective of the strip', uDeg }]
}

/**
 * Marks found in a photo → trace. Angles counter-clockwise as seen; the marks have no order of their own.
 * @param options set-up given beside the photo; it wins over what a printed sheet's code says
 */
export const traceFromDetection = (detection: Detection, options: SetUp = {}): Trace | Unmeasurable => {
  const strip = detection.rig === 'mirror'
  const marks = detection.marks.map((mark, i) => traceMark(mark, i, strip))
  if (marks.some((mark) => Number.isNaN(mark.position)))
    return unmeasurable('the scale of the strip is not known', 'the photo', 'lay a ruler beside the marks (and say what a tick is with --tick), give two points a known distance apart with --scale, say the size of a whole sheet in view with --paper, or use the printed strip')
  const setUp: SetUp = { ...sheetSetUp(detection), ...options, rig: strip ? 'mirror' : 'pointer', unit: strip ? 'mm' : 'deg' }
  const trace = traceFrom({ marks, lastDigit: 0, common: commonOf(detection), ordered: false, warnings: [...detection.doubts] }, setUp)
  if (isUnmeasurable(trace) || trace.rig.kind !== 'mirror') return trace
  return { ...trace, common: [...trace.common, ...stripCommon(detection, { distanceMm: trace.rig.distanceMm.value, ratio: trace.rig.ratio })] }
}
