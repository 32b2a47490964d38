import { mean, sum } from '#core/numeric/moments'
import type { FramedRun } from '#core/assign/paper-frame'
import type { Scatter } from './mark-uncertainty.ts'

/** Runs in one direction over the same commands, and their mean. */
export interface MeanRun {
  readonly runs: readonly FramedRun[]
  /** Commanded positions all of them hold, ascending. */
  readonly commands: readonly number[]
  /** Mean rests at these, deg, in the frame of the runs. */
  readonly earlyDeg: readonly number[]
  readonly lateDeg: readonly number[]
  /** Standard uncertainty of each mean from what was stated for its marks; null where nothing was. */
  readonly uDeg: readonly (number | null)[]
  /** One row per run: its rests (jumps first) at these commands. */
  readonly table: readonly (readonly number[])[]
  /** Each run's offset from the mean, deg. */
  readonly offsetsDeg: readonly number[]
  /** Scatter of one run about the mean, offsets taken out; null with a single run. */
  readonly repeatability: Scatter | null
  /** The same with the number of runs it comes from. */
  readonly repeated: (Scatter & { readonly runs: number }) | null
  /** Early and late readings differ somewhere. */
  readonly jumpsUnknown: boolean
}

type Part = 'earlyDeg' | 'lateDeg' | 'uDeg'

const at = <P extends Part>(run: FramedRun, part: P, commands: readonly number[]): FramedRun[P][number][] => {
  const places = new Map(run.commands.map((command, i) => [command, i]))
  return commands.map((command) => run[part][places.get(command) ?? 0] as FramedRun[P][number])
}

const shared = (runs: readonly FramedRun[]): number[] => {
  const [first, ...others] = runs
  const sets = others.map(({ commands }) => new Set(commands))
  return (first?.commands ?? []).filter((command) => sets.every((set) => set.has(command)))
}

const columnMeans = (rows: readonly (readonly number[])[]): number[] => (rows[0] ?? []).map((_, k) => mean(rows.map((row) => row[k] ?? Number.NaN)))

const repeatabilityOf = (table: readonly (readonly number[])[], means: readonly number[], offsets: readonly number[]): Scatter | null => {
  const degreesOfFreedom = (table.length - 1) * (means.length - 1)
  if (degreesOfFreedom < 1) return null
  const squares = table.flatMap((row, p) => row.map((angle, k) => (angle - (means[k] ?? 0) - (offsets[p] ?? 0)) ** 2))
  return { uDeg: Math.sqrt(sum(squares) / degreesOfFreedom), degreesOfFreedom }
}

const combinedU = (columns: readonly (readonly (number | null)[])[], k: number): number | null => {
  const stated = columns.map((column) => column[k] ?? null)
  return stated.every((u) => u !== null) ? Math.hypot(...stated.map((u) => u ?? 0)) / stated.length : null
}

/**
 * The mean of runs over the commands they share. Each run weighs the same; an offset between runs (paper put down anew)
 * moves the mean as a whole and so no error figure.
 * @param runs at least one, in one frame
 */
export const meanRun = (runs: readonly FramedRun[]): MeanRun => {
  const commands = shared(runs)
  const table = runs.map((run) => at(run, 'earlyDeg', commands))
  const earlyDeg = columnMeans(table)
  const stated = runs.map((run) => at(run, 'uDeg', commands))
  const lateDeg = columnMeans(runs.map((run) => at(run, 'lateDeg', commands)))
  const offsetsDeg = table.map((row) => mean(row.map((angle, k) => angle - (earlyDeg[k] ?? 0))))
  const repeatability = repeatabilityOf(table, earlyDeg, offsetsDeg)
  return {
    runs,
    commands,
    earlyDeg,
    lateDeg,
    uDeg: commands.map((_, k) => combinedU(stated, k)),
    table,
    offsetsDeg,
    repeatability,
    repeated: repeatability && { ...repeatability, runs: runs.length },
    jumpsUnknown: lateDeg.some((angle, k) => angle !== earlyDeg[k]),
  }
}
