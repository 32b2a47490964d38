import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Trace, TraceMark } from './trace.ts'

const runOf = (mark: TraceMark): string => `${mark.pass}/${mark.direction ?? 1}`

/** A row typed twice, one below the other and alike in every number, counts once. */
export const withoutTwins = (marks: readonly TraceMark[]): { readonly marks: readonly TraceMark[]; readonly warnings: readonly string[] } => {
  const isTwin = (mark: TraceMark, i: number): boolean => {
    const before = marks[i - 1]
    return before !== undefined && mark.command !== null && mark.command === before.command && mark.position === before.position && mark.tally === before.tally && runOf(mark) === runOf(before)
  }
  const twins = marks.filter(isTwin)
  if (twins.length === 0) return { marks, warnings: [] }
  return { marks: marks.filter((mark, i) => !isTwin(mark, i)), warnings: [`Line ${twins.map(({ line }) => line).join(', ')} says the same as the line above it; it was counted once.`] }
}

/** Two marks that claim the same command in the same run. */
const doubled = (marks: readonly TraceMark[]): Unmeasurable | null => {
  const seen = new Map<string, TraceMark>()
  for (const mark of marks) {
    if (mark.command === null) continue
    const key = `${runOf(mark)}/${mark.command}`
    const first = seen.get(key)
    if (first) return unmeasurable(`command ${mark.command} stands on line ${first.line} and again here`, `line ${mark.line}`, 'correct one of them, or number repeated runs in a pass column and mark returns with direction -')
    seen.set(key, mark)
  }
  return null
}

/** More commands than marks by this factor are a slip of the finger, far beyond any mark that merges commands: two electrical cycles of 256 microsteps (common practice, no source). */
export const mostCommandsPerMark = 2048

/** How many commands a trace speaks of: stated, numbered or tallied; a slip of the finger makes it millions. */
const commandsSaid = ({ commands, marks }: Trace): number => {
  let [low, high, tallied] = [0, 0, 0]
  for (const { command, tally } of marks) {
    low = Math.min(low, command ?? 0)
    high = Math.max(high, command ?? 0)
    tallied += tally ?? 0
  }
  return Math.max(commands ?? 0, high - low, tallied)
}

const tooMany = (trace: Trace): Unmeasurable | null => {
  const said = commandsSaid(trace)
  return said > mostCommandsPerMark * trace.marks.length ? unmeasurable(`it speaks of ${said} commands for ${trace.marks.length} marks`, 'the trace', 'check the command numbers, tallies and the stated number of commands') : null
}

/** Whether a trace can be measured at all. @returns null when it can */
export const checkMarks = (trace: Trace): Unmeasurable | null => {
  const { marks } = trace
  if (marks.length === 0) return unmeasurable('there are no marks in it', 'the trace', 'give one mark position per line')
  if (marks.length < 3) return unmeasurable(`there ${marks.length === 1 ? 'is only one mark' : 'are only two marks'}`, 'the trace', 'mark at least three rest positions; a whole electrical cycle (four full steps) is the least that says much')
  const [first] = marks
  if (first && marks.every((mark) => mark.position === first.position && mark.tally === null)) return unmeasurable('every mark stands at the same place', 'the trace', 'check that the motor turned and that the position column is the right one')
  return tooMany(trace) ?? doubled(marks)
}
