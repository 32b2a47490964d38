import type { Run } from './runs.ts'

/** A run on the paper it shares with the others: rests by commanded position, outward travel positive. */
export interface FramedRun {
  readonly pass: number
  readonly direction: 1 | -1
  /** Commanded positions, ascending. */
  readonly commands: readonly number[]
  /** deg at the shaft; 0 is where the main run's first mark stands. Jumps read early or late, in the order of travel. */
  readonly earlyDeg: readonly number[]
  readonly lateDeg: readonly number[]
  /** Standard uncertainty of each mark; null where nobody stated it. */
  readonly uDeg: readonly (number | null)[]
}

/** Commands of a return that nobody labelled count down from where the outward run ended. */
const commandsOf = (run: Run, lastOutward: number): number[] => {
  const labelled = run.ordered.marks.every((mark) => mark.command !== null)
  return run.direction === 1 || labelled ? [...run.rests.commands] : run.rests.commands.map((command) => lastOutward - command)
}

const framed = (run: Run, main: Run, lastOutward: number): FramedRun => {
  const place = (angle: number): number => main.ordered.sign * (run.ordered.startDeg + run.ordered.sign * angle - main.ordered.startDeg)
  const commands = commandsOf(run, lastOutward)
  const order = commands.map((_, i) => i).sort((a, b) => (commands[a] ?? 0) - (commands[b] ?? 0))
  const { earlyDeg, lateDeg, uDeg } = run.rests
  return {
    pass: run.pass,
    direction: run.direction,
    commands: order.map((i) => commands[i] ?? 0),
    earlyDeg: order.map((i) => place(earlyDeg[i] ?? 0)),
    lateDeg: order.map((i) => place(lateDeg[i] ?? 0)),
    uDeg: order.map((i) => uDeg[i] ?? null),
  }
}

/** On a dial only the angle within a turn is known: the run is set on the turn where the main run has the same commands. */
const onSameTurn = (run: FramedRun, main: FramedRun, turnDeg: number | null): FramedRun => {
  if (turnDeg === null) return run
  const there = new Map(main.commands.map((command, i) => [command, main.earlyDeg[i] ?? 0]))
  const apart = run.commands.flatMap((command, i) => (there.has(command) ? [(run.earlyDeg[i] ?? 0) - (there.get(command) ?? 0)] : [])).sort((a, b) => a - b)
  const shift = turnDeg * Math.round((apart[apart.length >> 1] ?? 0) / turnDeg)
  return shift === 0 ? run : { ...run, earlyDeg: run.earlyDeg.map((angle) => angle - shift), lateDeg: run.lateDeg.map((angle) => angle - shift) }
}

/**
 * Every run in one frame, the main run first; the others follow in their own order.
 * @param turnDeg one turn of the pointer at the shaft; null where it does not go round
 */
export const onOnePaper = (runs: readonly Run[], main: Run, turnDeg: number | null): readonly FramedRun[] => {
  const first = framed(main, main, 0)
  const lastOutward = main.direction === 1 ? (first.commands.at(-1) ?? 0) : 0
  return [first, ...runs.filter((run) => run !== main).map((run) => onSameTurn(framed(run, main, lastOutward), first, turnDeg))]
}
