import type { Work } from '#core/review/work'
import type { Measured, Measuring } from './engine-messages.ts'

/** Measures off the page's own thread; while one test is being measured only the newest of those that follow is kept. */
export interface Engine {
  readonly measure: (work: Work) => void
}

export const startEngine = (told: (measured: Measured) => void): Engine => {
  const worker = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' })
  let turn = 0
  let busy = false
  let next: Measuring | null = null
  const send = (job: Measuring): void => {
    busy = true
    worker.postMessage(job)
  }
  worker.addEventListener('message', ({ data }: MessageEvent<Measured>) => {
    busy = false
    if (next) send(next)
    next = null
    if (data.turn === turn) told(data)
  })
  return {
    measure: (work) => {
      turn += 1
      const job = { turn, work }
      if (busy) next = job
      else send(job)
    },
  }
}
