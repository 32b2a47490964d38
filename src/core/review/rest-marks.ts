import { runsOf } from '#core/assign/runs'
import type { Trace } from '#core/ingest/trace'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { locate } from '#core/rig/locate'

/** Which mark each rest 0 … K of the judged run ends on (jumps read first), and which way the run goes round. */
export interface RestMarks {
  /** Index into the trace's marks. */
  readonly markOfRest: readonly number[]
  /** +1 when travel is counter-clockwise as seen or along the scale. */
  readonly sign: 1 | -1
}

/** Null when the trace cannot be measured. */
export const restMarks = (trace: Trace): RestMarks | null => {
  const located = locate(trace)
  const runs = isUnmeasurable(located) ? located : runsOf(trace, located)
  if (isUnmeasurable(runs)) return null
  const run = runs.find(({ direction }) => direction === 1) ?? runs[0]
  if (!run) return null
  const { assignment, ordered } = run
  const indexOf = new Map(trace.marks.map(({ line }, i) => [line, i]))
  let place = 0
  const markOfRest = run.rests.commands.map((_, command) => {
    while (place < assignment.lastCommand.length && (assignment.lastCommand[place] as number) < command) place++
    return indexOf.get(ordered.marks[place % ordered.marks.length]?.line ?? -1) ?? -1
  })
  return { markOfRest, sign: ordered.sign }
}
