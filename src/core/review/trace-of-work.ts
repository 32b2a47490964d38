import { checkMarks } from '#core/ingest/check-marks'
import { readTrace } from '#core/ingest/read-trace'
import { readSetUp, type SetUp } from '#core/ingest/set-up'
import type { Trace } from '#core/ingest/trace'
import { traceFromDetection } from '#core/ingest/trace-from-detection'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { reviewedOf } from './apply-edit.ts'
import { editedDetection } from './edited-detection.ts'
import type { Reviewed } from './reviewed.ts'
import { gridColumns, type Work } from './work.ts'

const isSet = ([, value]: readonly [string, string]): boolean => value.trim() !== ''

const headLines = ({ setUp }: Work): readonly string[] => Object.entries(setUp).filter(isSet).map(([key, value]) => `# ${key}: ${value.trim()}`)

/** Key of the set-up that stands on a line of the trace text; undefined below the head. */
export const keyOnLine = ({ setUp }: Work, line: number): string | undefined => Object.entries(setUp).filter(isSet)[line - 1]?.[0]

/** Line of the trace text on which the first row of the grid stands (1 = first line). */
export const firstRowLine = (work: Work): number => headLines(work).length + 2

const oneLine = (cell: string): string => cell.replaceAll(/[\t\r\n]+/g, ' ').trim()

/** What was typed as a trace file: set-up lines, then fields parted by tabs. */
export const traceText = (work: Work): string =>
  [...headLines(work), gridColumns.join('\t'), ...work.rows.map((row) => gridColumns.map((_, i) => oneLine(row[i] ?? '')).join('\t').trimEnd())].join('\n')

/** The set-up fields read; the first that cannot be is named. */
export const setUpOfWork = ({ setUp }: Pick<Work, 'setUp'>): SetUp | Unmeasurable => {
  let all: SetUp = {}
  for (const [key, value] of Object.entries(setUp).filter(isSet)) {
    const part = readSetUp(key, value, `set-up, ${key}`)
    if (isUnmeasurable(part)) return part
    all = { ...all, ...part }
  }
  return all
}

/** The reviewed marks of a photo as a trace, labels and tallies with them. */
export const traceOfReviewed = (state: Reviewed, work: Pick<Work, 'setUp' | 'edits' | 'applied'>): Trace | Unmeasurable => {
  const { rig: _rig, unit: _unit, ...setUp } = { ...setUpOfWork(work) } as SetUp
  const wrong = setUpOfWork(work)
  if (isUnmeasurable(wrong)) return wrong
  const trace = traceFromDetection(editedDetection(state, work.edits.slice(0, work.applied)), setUp)
  if (isUnmeasurable(trace)) return trace
  const labelled = { ...trace, marks: trace.marks.map((mark, i) => ({ ...mark, command: state.marks[i]?.command ?? null, tally: state.marks[i]?.tally ?? null })) }
  return checkMarks(labelled) ?? labelled
}

/** The trace of a test, typed or photographed, or what stands in the way. */
export const traceOfWork = (work: Work): Trace | Unmeasurable => {
  if (work.source === 'typed') return readTrace(traceText(work))
  const state = reviewedOf(work)
  if (state) return traceOfReviewed(state, work)
  return work.photo === null ? unmeasurable('there is no photo yet', 'the marks', 'choose a photo, or type the positions') : unmeasurable('none have been read in the photo yet', 'the marks', 'say where they are and look for them again, choose another photo, or type the positions')
}
