import { measure, type MeasureOptions } from '#core/measure'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'
import { reviewedOf } from './apply-edit.ts'
import { editedDetection } from './edited-detection.ts'
import { traceOfWork } from './trace-of-work.ts'
import type { Work } from './work.ts'

/**
 * The result document of a test as it stands. For a photo the measured marks stand in `detection`, and beside them in
 * `detection.edited` what the tool had found and each change.
 */
export const measureWork = (work: Work, options: MeasureOptions = {}): Result | Unmeasurable => {
  const trace = traceOfWork(work)
  if (isUnmeasurable(trace)) return trace
  const result = measure(trace, options)
  if (isUnmeasurable(result)) return result
  const state = work.source === 'photo' ? reviewedOf(work) : null
  if (!state) return result
  const detection = editedDetection(state, work.edits.slice(0, work.applied))
  return { ...result, input: { kind: 'photo', sha256: work.photo?.sha256 ?? null, name: work.photo?.name ?? null }, detection: detection as unknown as Result['detection'] }
}
