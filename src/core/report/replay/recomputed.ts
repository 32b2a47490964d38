import type { Trace } from '#core/ingest/trace'
import type { Result } from '#core/report/result-schema'

/** Detected marks as the trace has them, so that a change in either shows. */
const detectionOf = ({ marks, rig }: Trace, { detection }: Result): Result['detection'] => {
  if (!detection) return null
  const strip = rig.kind === 'mirror'
  return {
    ...detection,
    marks: marks.map(({ position, u, multiplicity }, i) => {
      const mark = detection.marks[i] ?? { angleDeg: null, uDeg: null, p0: [0, 0], p1: [0, 0], confidence: 0, multiplicity: 0 }
      // Earlier results had the mark's own share as its only uncertainty.
      const turned = { angleDeg: position, ...('uOwnDeg' in mark ? { uOwnDeg: u } : { uDeg: u }) }
      const along = { positionMm: position, ...('uOwnPosition' in mark ? { uOwnPosition: u } : { uPosition: u }) }
      return { ...mark, multiplicity, ...(strip ? along : turned) }
    }),
  }
}

/** A result measured again, with what only the first measurement knew carried over, as it would be written to a file. */
export const recomputed = (measured: Result, trace: Trace, kept: Result): Result =>
  JSON.parse(JSON.stringify({ ...measured, input: kept.input, detection: detectionOf(trace, kept) })) as Result
