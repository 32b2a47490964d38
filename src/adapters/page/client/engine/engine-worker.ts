import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { measureWork } from '#core/review/measure-work'
import { namedByRow, refusedByRow } from '#core/review/named-by-row'
import { restMarks } from '#core/review/rest-marks'
import { traceOfWork } from '#core/review/trace-of-work'
import type { Measured, Measuring } from './engine-messages.ts'

const measured = ({ turn, work, cause }: Measuring): Measured => {
  const outcome = measureWork(work, { cause })
  const trace = traceOfWork(work)
  return { turn, cause, outcome: isUnmeasurable(outcome) ? refusedByRow(outcome, work) : { ...namedByRow(outcome, work), detection: null }, rests: isUnmeasurable(trace) ? null : restMarks(trace) }
}

self.addEventListener('message', ({ data }: MessageEvent<Measuring>) => self.postMessage(measured(data)))
