import type { Assignment } from './assignment.ts'
import type { OrderedRun } from './order-run.ts'

/** Where the shaft rested after every command of a run, 0 … K; angles in deg at the shaft, travel positive. */
export interface Rests {
  readonly commands: readonly number[]
  /** Read so that a run of commands on one mark jumped at its first command. */
  readonly earlyDeg: readonly number[]
  /** Read so that it jumped at its last; the same numbers where every command has a mark of its own. */
  readonly lateDeg: readonly number[]
  /** Standard uncertainty of each rest from its mark alone, deg; null where nobody stated one. */
  readonly uDeg: readonly (number | null)[]
  /** Early and late readings differ somewhere. */
  readonly jumpsUnknown: boolean
}

/** Place of the mark on which each command 0 … K ends when the jump comes first. */
const placesOf = ({ commands, lastCommand }: Assignment): number[] => {
  const places: number[] = []
  let mark = 0
  for (let command = 0; command <= commands; command++) {
    while (mark < lastCommand.length && (lastCommand[mark] as number) < command) mark++
    places.push(mark)
  }
  return places
}

/**
 * Commands and marks → rests. A tally says that all its commands ended on the mark, so early and late agree; a label
 * or a fitted count leaves open when within the run the shaft jumped.
 * @param turnDeg one turn at the shaft, needed for a closed run
 */
export const restsOf = (run: OrderedRun, assignment: Assignment, turnDeg: number | null): Rests => {
  const angles = assignment.closed ? [...run.anglesDeg, turnDeg ?? 0] : run.anglesDeg
  const u = run.marks.map((mark) => mark.uDeg)
  if (assignment.closed) u.push(u[0] ?? null)
  const early = placesOf(assignment)
  const jumpFirst = assignment.decidedBy === 'tally'
  const late = early.map((place, command) => (jumpFirst || endsOn(assignment, place) <= command ? place : Math.max(0, place - 1)))
  const firstLabel = run.marks[0]?.command ?? 0
  return {
    commands: early.map((_, command) => command + firstLabel),
    earlyDeg: early.map((place) => angles[place] ?? Number.NaN),
    lateDeg: late.map((place) => angles[place] ?? Number.NaN),
    uDeg: early.map((place) => u[place] ?? null),
    jumpsUnknown: late.some((place, command) => place !== early[command]),
  }
}

const endsOn = ({ lastCommand, commands }: Assignment, place: number): number => lastCommand[place] ?? commands

/** The third way to read a gap: its marks were left out, and the shaft stood evenly between those on either side. */
export const asLeftOut = (anglesDeg: readonly number[], leftOut: readonly number[]): number[] => {
  const out = new Set(leftOut)
  return anglesDeg.map((angle, k) => {
    if (!out.has(k)) return angle
    let [before, after] = [k - 1, k + 1]
    while (out.has(before)) before--
    while (out.has(after)) after++
    const [from, to] = [anglesDeg[before] ?? angle, anglesDeg[after] ?? angle]
    return from + ((to - from) * (k - before)) / (after - before)
  })
}
