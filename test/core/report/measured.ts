import { readTrace } from '#core/ingest/read-trace'
import type { Trace } from '#core/ingest/trace'
import { measure } from '#core/measure'
import { markRests } from '#core/motor/mark-rests'
import { evenMotor, type RestModel } from '#core/motor/rest-model'
import { simulateRests } from '#core/motor/simulate'
import type { Result } from '#core/report/result-schema'

/** Reads a trace and fails loudly when it cannot be read. */
export const traceOf = (text: string): Trace => {
  const trace = readTrace(text)
  if (trace.kind !== 'trace') throw new Error(JSON.stringify(trace))
  return trace
}

/** Measures a trace and fails loudly when it cannot be measured. */
export const measuredTrace = (trace: Trace): Result => {
  const result = measure(trace, { intervals: 'linear' })
  if ('kind' in result) throw new Error(JSON.stringify(result))
  return result
}

export const measured = (text: string): Result => measuredTrace(traceOf(text))

export interface Simulation {
  readonly stepsPerRev: number
  readonly microsteps: number
  readonly commands: number
  readonly uDeg: number
  readonly motor?: Partial<RestModel>
  readonly name?: string
}

/** Text of a simulated trace, numbered commands, positions to four decimals. */
export const simulatedTrace = ({ stepsPerRev, microsteps, commands: last, uDeg, motor = {}, name = 'rail' }: Simulation): string => {
  const commands = Array.from({ length: last + 1 }, (_, k) => k)
  const rests = simulateRests({ ...evenMotor(stepsPerRev, microsteps), ...motor }, { commands, settleCycles: 1 })
  const marks = markRests(rests, commands, { uDeg, stepsPerRev, microsteps, seed: 5 })
  const head = `# motor: ${name}\n# steps-per-rev: ${stepsPerRev}\n# microsteps: ${microsteps}\n# mark-uncertainty: ${uDeg} deg\n`
  return `${head}position,command\n${commands.map((k) => `${marks[k]?.toFixed(4)},${k}`).join('\n')}\n`
}

/** A can-stack that makes three commands of four in one jump: 48 bare marks for 96 commands. */
export const threeOfFour = `# motor: heater flap\n# steps-per-rev: 24\n# microsteps: 4\n# mark-uncertainty: 0.3 deg\n${Array.from({ length: 24 }, (_, i) => `${15 * i}\n${15 * i + 11.25}`).join('\n')}\n`

/** A hybrid with a 3,201-mark turn. */
export const wholeTurn = (name = 'pump'): string => simulatedTrace({ stepsPerRev: 200, microsteps: 16, commands: 3200, uDeg: 0.012, motor: { detent4: 0.1, friction: 0.02 }, name })

/** Sixteen commands only. */
export const sixteen = simulatedTrace({ stepsPerRev: 24, microsteps: 4, commands: 16, uDeg: 0.15, motor: { detent4: 0.1 } })
