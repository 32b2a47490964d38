import type { Detection, Hints } from '#core/detect/detection'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

export interface DetectJob {
  readonly photo: Blob
  readonly hints: Hints
}

/** Decodes and detects in a worker of its own; stopping ends the worker. */
export const detectHere = (photo: Blob, hints: Hints, stop: AbortSignal): Promise<Detection | Unmeasurable> =>
  new Promise((resolve) => {
    const worker = new Worker(new URL('../engine/detect-worker.ts', import.meta.url), { type: 'module' })
    const end = (outcome: Detection | Unmeasurable): void => {
      worker.terminate()
      resolve(outcome)
    }
    stop.addEventListener('abort', () => end(unmeasurable('the search was stopped', 'the photo', 'start it again when you like')))
    worker.addEventListener('message', ({ data }: MessageEvent<Detection | Unmeasurable>) => end(data))
    worker.addEventListener('error', () => end(unmeasurable('the marks could not be looked for', 'the photo', 'try a JPEG or PNG of at most 50 megapixels')))
    worker.postMessage({ photo, hints } satisfies DetectJob)
  })
