import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Trace, TraceMark } from './trace.ts'

const runOf = (mark: TraceMark): string => `${mark.pass}/${mark.direction ?? 1}`

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

/** Whether a trace can be measured at all. @returns null when it can */
export const checkMarks = ({ marks }: Trace): Unmeasurable | null => {
  if (marks.length === 0) return unmeasurable('there are no marks in it', 'the trace', 'give one mark position per line')
  if (marks.length < 3) return unmeasurable(`there ${marks.length === 1 ? 'is only one mark' : 'are only two marks'}`, 'the trace', 'mark at least three rest positions; a whole electrical cycle (four full steps) is the least that says much')
  const [first] = marks
  if (first && marks.every((mark) => mark.position === first.position && mark.tally === null)) return unmeasurable('every mark stands at the same place', 'the trace', 'check that the motor turned and that the position column is the right one')
  return doubled(marks)
}
