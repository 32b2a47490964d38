import { isUnmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Work } from '#core/review/work'
import type { Measured, Measuring } from './engine-messages.ts'

/** Measures off the page's own thread. */
export interface Engine {
  readonly measure: (work: Work) => void
}

/** @param broken called where the worker could not be loaded, or threw */
const fresh = (told: (measured: Measured) => void, broken: () => void): Worker => {
  const worker = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<Measured>) => told(data))
  worker.addEventListener('error', broken)
  return worker
}

/** Rest after the last change before the cause is looked for. */
const calmMs = 700
const notWorkedOut = unmeasurable('the page could not work out the figures', 'the page', 'reload it')

/**
 * Figures first, in a worker that always takes the newest state; then, once the hand rests, the motor's cause in a second
 * worker, which is stopped when the marks change again. In the place of a broken worker the next change starts another.
 */
export const startEngine = (told: (measured: Measured) => void): Engine => {
  let turn = 0
  let quick: Worker | null = null
  let doing: Measuring | null = null
  let next: Measuring | null = null
  let search: Worker | null = null
  let calm: ReturnType<typeof setTimeout> | undefined

  const lookForCause = (work: Work, figures: Measured): void => {
    const worker = fresh((measured) => end(measured), () => end({ ...figures, cause: true }))
    const end = (measured: Measured): void => {
      worker.terminate()
      if (worker === search) told(measured)
    }
    search = worker
    worker.postMessage({ turn, work, cause: true } satisfies Measuring)
  }
  const answered = (measured: Measured): void => {
    const work = doing?.work
    doing = null
    if (next) send(next)
    next = null
    if (measured.turn !== turn) return
    told(measured)
    if (work && !isUnmeasurable(measured.outcome)) calm = setTimeout(() => lookForCause(work, measured), calmMs)
  }
  const broke = (): void => {
    quick?.terminate()
    quick = null
    answered({ turn: doing?.turn ?? turn, cause: true, outcome: notWorkedOut, rests: null })
  }
  const send = (job: Measuring): void => {
    doing = job
    quick ??= fresh(answered, broke)
    quick.postMessage(job)
  }
  return {
    measure: (work) => {
      turn += 1
      clearTimeout(calm)
      search?.terminate()
      search = null
      const job: Measuring = { turn, work, cause: false }
      if (doing) next = job
      else send(job)
    },
  }
}
