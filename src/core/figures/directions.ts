import { extremes, mean, standardDeviation } from '#core/numeric/moments'
import { axisFigures, type AxisFigures } from './iso-230.ts'
import type { MeanRun } from './mean-run.ts'

/** Outward and return runs against each other; deg at the shaft, outward travel positive. */
export interface Directions {
  /** Mean of B_k = mean forward − mean backward; negative when the shaft lags on either way. */
  readonly reversalDeg: number
  /** Standard uncertainty of that mean, from the marks alone. */
  readonly reversalUDeg: number
  /** Largest |B_k|. */
  readonly reversalMaxDeg: number
  /** Commanded angle that is lost on reversing: |mean B_k|, or 0 where the marks cannot tell it from none. */
  readonly deadBandDeg: number
  readonly perCommand: readonly { readonly command: number; readonly reversalDeg: number }[]
  readonly forwardRuns: number
  readonly backwardRuns: number
  /** Figures of ISO 230-2, from five runs each way; null with fewer. */
  readonly iso230: AxisFigures | null
  /** What it takes to get them; null when they are there. */
  readonly iso230Missing: string | null
}

/** Runs in each direction that ISO 230-2 asks for. */
export const runsAsked = 5

const plural = (count: number, what: string): string => `${count} more ${what} run${count === 1 ? '' : 's'}`

/** What is missing for the figures of ISO 230-2. */
export const missingForIso230 = (forward: number, backward: number): string | null => {
  const needs = [
    ...(forward < runsAsked ? [plural(runsAsked - forward, 'outward')] : []),
    ...(backward < runsAsked ? [plural(runsAsked - backward, 'return')] : []),
  ]
  return needs.length === 0 ? null : `${needs.join(' and ')} over the same commands on the same paper (ISO 230-2 asks for ${runsAsked} each way)`
}

const column = ({ table, commands }: MeanRun, wanted: readonly number[]): number[][] => {
  const places = new Map(commands.map((command, k) => [command, k]))
  return wanted.map((command) => table.map((row) => row[places.get(command) ?? 0] ?? Number.NaN))
}

/** Deviations from the commanded position: what ISO 230-2 calls x_ij. */
const deviations = (rows: readonly (readonly number[])[], commands: readonly number[], microstepDeg: number): number[][] =>
  rows.map((row, i) => row.map((angle) => angle - microstepDeg * (commands[i] ?? 0)))

/**
 * @param uDeg standard uncertainty of one mark, deg
 * @returns null when the two directions share no command
 */
export const directionsOf = (forward: MeanRun, backward: MeanRun, { microstepDeg, uDeg }: { readonly microstepDeg: number; readonly uDeg: number }): Directions | null => {
  const there = new Set(backward.commands)
  const commands = forward.commands.filter((command) => there.has(command))
  if (commands.length === 0) return null
  const [up, down] = [column(forward, commands), column(backward, commands)]
  const perCommand = commands.map((command, i) => ({ command, reversalDeg: mean(up[i] ?? []) - mean(down[i] ?? []) }))
  const values = perCommand.map(({ reversalDeg }) => reversalDeg)
  const reversalDeg = mean(values)
  const marks = uDeg * Math.sqrt(1 / forward.runs.length + 1 / backward.runs.length)
  const spread = values.length > 1 ? standardDeviation(values) : 0
  const reversalUDeg = Math.max(marks, spread) / Math.sqrt(commands.length)
  const [low, high] = extremes(values)
  const iso230Missing = missingForIso230(forward.runs.length, backward.runs.length)
  return {
    reversalDeg,
    reversalUDeg,
    reversalMaxDeg: Math.max(Math.abs(low), Math.abs(high)),
    deadBandDeg: Math.abs(reversalDeg) > 2 * reversalUDeg ? Math.abs(reversalDeg) : 0,
    perCommand,
    forwardRuns: forward.runs.length,
    backwardRuns: backward.runs.length,
    iso230: iso230Missing === null ? axisFigures(deviations(up, commands, microstepDeg), deviations(down, commands, microstepDeg)) : null,
    iso230Missing,
  }
}
