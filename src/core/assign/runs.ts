import type { Trace } from '#core/ingest/trace'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Located, LocatedMark } from '#core/rig/locate'
import { assign } from './assign.ts'
import type { Assignment } from './assignment.ts'
import { orderRun, type OrderedRun } from './order-run.ts'
import { type Rests, restsOf } from './rests.ts'
import { splitPasses } from './split-passes.ts'

/** One pass in one direction, with its commands brought to its marks. */
export interface Run {
  readonly pass: number
  /** +1 outward, −1 return: commands counted down. */
  readonly direction: 1 | -1
  readonly ordered: OrderedRun
  readonly assignment: Assignment
  readonly rests: Rests
}

const keyOf = (mark: LocatedMark): string => `${mark.pass}/${mark.direction ?? 1}`

/** Marks → runs by pass and direction, in the order they appear. */
const separate = (marks: readonly LocatedMark[]): LocatedMark[][] => {
  const keys = [...new Set(marks.map(keyOf))]
  return keys.map((key) => marks.filter((mark) => keyOf(mark) === key))
}

/** Every run of a trace with its commands assigned. */
export const runsOf = (trace: Trace, located: Located): readonly Run[] | Unmeasurable => {
  const { stepsPerRev, microsteps } = trace.motor
  const microstepDeg = 360 / stepsPerRev / microsteps
  const runs: Run[] = []
  const split = trace.ordered ? splitPasses(located.marks, { fullStepDeg: microstepDeg * microsteps, turnDeg: located.turnDeg }) : { marks: located.marks, warnings: [] }
  for (const marks of separate(split.marks)) {
    const ordered = orderRun(marks, located, trace.ordered, microstepDeg)
    const uDeg = marks.reduce((most, mark) => Math.max(most, mark.uDeg ?? 0), 0)
    const assignment = assign(ordered, { microstepDeg, microsteps, turnDeg: located.turnDeg, commands: trace.commands, uDeg })
    if (isUnmeasurable(assignment)) return assignment
    const [first] = marks
    const said = runs.length === 0 ? [...split.warnings, ...assignment.warnings] : assignment.warnings
    runs.push({ pass: first?.pass ?? 1, direction: first?.direction ?? 1, ordered, assignment: { ...assignment, warnings: said }, rests: restsOf(ordered, assignment, located.turnDeg) })
  }
  return runs
}

/** Outward runs come first in every judgement; a trace of returns alone is judged on its first. */
export const mainRun = (runs: readonly Run[]): Run => (runs.find((run) => run.direction === 1) ?? runs[0]) as Run
