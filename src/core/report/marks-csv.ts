import type { DetectedMark, Detection } from '#core/detect/detection'
import type { SetUp } from '#core/ingest/set-up'
import type { Trace, TraceMark } from '#core/ingest/trace'
import { commonOf, stripCommon } from '#core/ingest/trace-from-detection'
import { setUpLines, setUpOfTrace } from './set-up-lines.ts'
import { guarded, type TraceRow, traceText, typedNumber } from './trace-text.ts'

const rowOf = (mark: TraceMark, lastDigit: number): TraceRow => ({
  position: typedNumber(mark.position, lastDigit),
  ...(mark.command === null ? {} : { command: String(mark.command) }),
  ...(mark.tally === null ? {} : { tally: String(mark.tally) }),
  pass: String(mark.pass),
  ...(mark.direction === null ? {} : { direction: mark.direction > 0 ? '+' : '-' }),
  note: guarded(mark.note),
  ...(mark.u === null ? {} : { uncertainty: String(mark.u) }),
  ...(mark.multiplicity === 1 ? {} : { multiplicity: String(mark.multiplicity) }),
})

/**
 * The marks a measurement rests on as a trace file of their own, set-up in its head: measured again it gives the same
 * figures. Notes are guarded against being read as formulas.
 */
export const marksCsv = (trace: Trace): string => traceText(setUpLines(setUpOfTrace(trace)), trace.marks.map((mark) => rowOf(mark, trace.lastDigit)))

const detectedRow = (mark: DetectedMark): TraceRow => ({
  position: String(mark.angleDeg ?? mark.positionMm ?? mark.positionPx ?? ''),
  uncertainty: String(mark.uOwnDeg ?? mark.uOwnPosition ?? ''),
  confidence: String(mark.confidence),
  multiplicity: String(mark.multiplicity),
})

/** What a printed sheet's code said, as set-up. */
const saidBySheet = ({ sheet }: Detection): SetUp => ({
  ...(sheet?.motor ? { motor: sheet.motor } : {}),
  ...(sheet?.stepsPerRev ? { stepsPerRev: sheet.stepsPerRev } : {}),
  ...(sheet?.microsteps ? { microsteps: sheet.microsteps } : {}),
  ...(sheet?.lengthMm ? { [sheet.rig === 'mirror' ? 'distanceMm' : 'radiusMm']: { value: sheet.lengthMm, u: 0 } } : {}),
})

/** What a reader of the file should know of the marks. */
const remarksOn = ({ marks, strip }: Detection, scaled: boolean): string[] => {
  const doubtful = marks.flatMap(({ confidence }, i) => (confidence < 0.5 ? [i + 1] : []))
  return [
    ...(strip === undefined ? [] : [strip.zero]),
    ...(scaled ? [] : ['the scale of this strip is not known; turn the positions into mm before they are measured']),
    ...(doubtful.length > 0 ? [`doubtful, check on the overlay and remove if it is no mark (counted from the first): ${doubtful.join(' ')}`] : []),
  ]
}

/**
 * Marks found in a photo as a trace file: angles in deg, or positions along a strip in mm. Without a known scale the
 * positions are px, and the file says so by a unit that `measure` refuses.
 * @param setUp what was said beside the photo; it wins over what a printed sheet's code says
 */
export const traceCsvFromDetection = (detection: Detection, setUp: SetUp = {}): string => {
  const strip = detection.rig === 'mirror'
  const scaled = !strip || detection.marks.every(({ positionMm }) => positionMm !== null)
  const known: SetUp = { ...saidBySheet(detection), ...setUp, rig: strip ? 'mirror' : 'pointer', unit: strip ? 'mm' : 'deg', order: 'none' }
  const shared = strip ? stripCommon(detection, { distanceMm: known.distanceMm?.value ?? null, ratio: known.ratio ?? 2 }) : commonOf(detection)
  const lines = setUpLines(shared.length > 0 ? { ...known, shared } : known)
  const head = scaled ? lines : lines.map(([key, value]) => (key === 'position-unit' ? ([key, 'px'] as const) : ([key, value] as const)))
  return traceText(head, detection.marks.map(detectedRow), remarksOn(detection, scaled))
}
