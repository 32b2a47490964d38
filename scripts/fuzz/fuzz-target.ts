import { seededRandom } from '#core/numeric/seeded-random'
import { mutated } from './mutate.ts'
import type { Target } from './target.ts'

/** What a run of inputs came to. */
export interface FuzzReport {
  readonly target: string
  readonly seed: number
  readonly inputs: number
  readonly taken: number
  readonly failures: readonly { readonly input: string; readonly message: string }[]
  readonly slowestMs: number
  /** Inputs that took longer than 5 s, base64. */
  readonly hung: readonly string[]
  readonly mostMemoryMiB: number
  readonly seconds: number
}

const base64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64')

/** Feeds a target mutated inputs until their number or the time is reached. The same seed gives the same inputs. */
export const fuzzTarget = async ({ name, corpus, run }: Target, { seed, inputs, seconds = Number.POSITIVE_INFINITY }: { readonly seed: number; readonly inputs: number; readonly seconds?: number }): Promise<FuzzReport> => {
  const random = seededRandom(seed)
  const started = performance.now()
  const failures: { input: string; message: string }[] = []
  const hung: string[] = []
  let [done, taken, slowestMs, mostMemoryMiB] = [0, 0, 0, 0]
  for (; done < inputs && performance.now() - started < seconds * 1000; done++) {
    const input = mutated(corpus, random)
    const from = performance.now()
    try {
      if (await run(input)) taken++
    } catch (error) {
      if (failures.length < 50) failures.push({ input: base64(input), message: error instanceof Error ? (error.stack ?? error.message).split('\n').slice(0, 4).join(' | ') : String(error) })
    }
    const ms = performance.now() - from
    slowestMs = Math.max(slowestMs, ms)
    if (ms > 5000) hung.push(base64(input))
    if (done % 500 === 0) mostMemoryMiB = Math.max(mostMemoryMiB, process.memoryUsage.rss() / 2 ** 20)
  }
  return { target: name, seed, inputs: done, taken, failures, slowestMs, hung, mostMemoryMiB, seconds: (performance.now() - started) / 1000 }
}
