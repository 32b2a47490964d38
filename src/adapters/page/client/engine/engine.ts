import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { Work } from '#core/review/work'
import type { Measured, Measuring } from './engine-messages.ts'

/** Measures off the page's own thread. */
export interface Engine {
  readonly measure: (work: Work) => void
}

const fresh = (told: (measured: Measured) => void): Worker => {
  const worker = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<Measured>) => told(data))
  return worker
}

/** Rest after the last change before the cause is looked for. */
const calmMs = 700

/**
 * Figures first, in a worker that always takes the newest state; then, once the hand rests, the motor's cause in a second
 * worker, which is stopped when the marks change again.
 */
export const startEngine = (told: (measured: Measured) => void): Engine => {
  let turn = 0
  let busy = false
  let next: Measuring | null = null
  let latest: Work | null = null
  let search: Worker | null = null
  let calm: ReturnType<typeof setTimeout> | undefined

  const lookForCause = (): void => {
    if (!latest) return
    const job: Measuring = { turn, work: latest, cause: true }
    search = fresh((measured) => {
      search?.terminate()
      search = null
      if (measured.turn === turn) told(measured)
    })
    search.postMessage(job)
  }
  const quick = fresh((measured) => {
    busy = false
    if (next) send(next)
    next = null
    if (measured.turn !== turn) return
    told(measured)
    if (!isUnmeasurable(measured.outcome)) calm = setTimeout(lookForCause, calmMs)
  })
  const send = (job: Measuring): void => {
    busy = true
    quick.postMessage(job)
  }
  return {
    measure: (work) => {
      turn += 1
      latest = work
      clearTimeout(calm)
      search?.terminate()
      search = null
      const job = { turn, work, cause: false }
      if (busy) next = job
      else send(job)
    },
  }
}
