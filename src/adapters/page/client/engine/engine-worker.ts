import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { measureWork } from '#core/review/measure-work'
import { restMarks } from '#core/review/rest-marks'
import { traceOfWork } from '#core/review/trace-of-work'
import type { Measured, Measuring } from './engine-messages.ts'

const measured = ({ turn, work }: Measuring): Measured => {
  const outcome = measureWork(work)
  const trace = traceOfWork(work)
  return { turn, outcome: isUnmeasurable(outcome) ? outcome : { ...outcome, detection: null }, rests: isUnmeasurable(trace) ? null : restMarks(trace) }
}

self.addEventListener('message', ({ data }: MessageEvent<Measuring>) => self.postMessage(measured(data)))
