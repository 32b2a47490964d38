import { readTrace } from '#core/ingest/read-trace'
import { measure } from '#core/measure'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import type { Result } from '#core/report/result-schema'

let measured: Result | null = null

const measureOnce = (): Result => {
  const rows = Array.from({ length: 97 }, (_, k) => `${Math.floor(k / 4) * 15 + (k % 4 === 0 ? 0 : 11.25)},${k}`)
  const head = '# steps-per-rev: 24\n# microsteps: 4\n# mark-uncertainty: 0.1 deg\nposition,command\n'
  const trace = readTrace(`${head}${rows.join('\n')}\n`)
  const result = isUnmeasurable(trace) ? trace : measure(trace, { intervals: 'linear' })
  if (isUnmeasurable(result)) throw new Error(result.what)
  return result
}

/** A measured result of a simulated 24-step motor: three commands in one jump, then one; only the name varies. */
export const sampleResult = (name: string): Result => {
  measured ??= measureOnce()
  return { ...measured, motor: { ...measured.motor, name } }
}
