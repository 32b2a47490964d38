import type { AssignOptions, Assignment } from './assignment.ts'
import { overlooked } from './left-out.ts'
import type { OrderedRun } from './order-run.ts'
import { goesRound } from './span.ts'

const certain = (decidedBy: Assignment['decidedBy'], lastCommand: readonly number[]): Assignment => ({
  decidedBy,
  commands: lastCommand.at(-1) ?? 0,
  lastCommand,
  closed: false,
  ambiguous: false,
  margin: null,
  logOdds: [],
  doubts: [],
  labelsToSettle: [],
  others: [],
  perhapsLeftOut: [],
  warnings: [],
})

/** By the command numbers that the marks carry. */
export const byCommand = (run: OrderedRun): Assignment => {
  const first = run.marks[0]?.command ?? 0
  const counts = run.marks.map((mark) => (mark.command ?? 0) - first)
  const gaps = overlooked(counts, run)
  const named = gaps.perhapsLeftOut.map((command) => command + first)
  return {
    ...certain('command', counts),
    perhapsLeftOut: gaps.perhapsLeftOut,
    warnings: named.length === 0 ? [] : [`Every command has a mark but ${named.length > 2 ? `${named.slice(0, -1).join(', ')} and ${named.at(-1)}` : named.join(' and ')}: merged with the one before, or the mark was left out. Which it is, no verdict here hangs on.`],
  }
}

/**
 * The start mark's own tally counts commands that did not leave it; on a whole turn without a last mark of its own they are
 * those that came back to it. A tally of 1 there may count the start itself, which a stated number of commands settles.
 */
export const byTally = (run: OrderedRun, options: AssignOptions): Assignment => {
  const { turnDeg, microstepDeg } = options
  const commands = run.marks.reduce((sum, mark) => sum + (mark.tally ?? 0), 0)
  const back = run.marks[0]?.tally ?? 0
  const closed = back > 0 && turnDeg !== null && commands === Math.round(turnDeg / microstepDeg) && goesRound(run, options)
  let total = closed ? -back : 0
  const counted = certain('tally', run.marks.map((mark) => (total += mark.tally ?? 0)))
  if (closed) return { ...counted, commands, closed }
  if (back !== 1 || options.commands === commands) return counted
  const fromStart = counted.lastCommand.map((command) => command - 1)
  if (options.commands === commands - 1) return { ...counted, commands: commands - 1, lastCommand: fromStart }
  return { ...counted, others: [fromStart], warnings: ['The start mark has a tally of 1: one command did not move the shaft off it. If it counts the start itself, write 0. Which it is, no verdict here hangs on.'] }
}

/** Marks that hold several rest positions, as a photo may say, take that many places in the order. */
export const byOrder = (run: OrderedRun): Assignment => {
  let total = -1
  return certain('order', run.marks.map((mark) => (total += mark.multiplicity)))
}
