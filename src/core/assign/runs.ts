import type { Trace } from '#core/ingest/trace'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { Located, LocatedMark } from '#core/rig/locate'
import { assign } from './assign.ts'
import type { AssignOptions, Assignment } from './assignment.ts'
import { countingSlip, type CountingSlip } from './counting-slip.ts'
import { perhapsLeftOut } from './left-out.ts'
import { lonePair } from './lone-pair.ts'
import { markName, markNameAt } from './mark-name.ts'
import { type OtherSteps, otherSteps, otherStepsSentence } from './other-steps.ts'
import { orderRun, type OrderedRun } from './order-run.ts'
import { type Rests, restsOf } from './rests.ts'
import { repeatedMarks } from './repeated-marks.ts'
import { labelled, type SplitOptions, type SplitPasses, splitPasses } from './split-passes.ts'

/** One pass in one direction, with its commands brought to its marks. */
export interface Run {
  readonly pass: number
  /** +1 outward, −1 return: commands counted down. */
  readonly direction: 1 | -1
  readonly ordered: OrderedRun
  readonly assignment: Assignment
  readonly rests: Rests
  /** Another number of steps per turn that fits the marks as well or better; null as a rule. */
  readonly otherSteps: OtherSteps | null
}

/** What the lengths of each rig may bend. */
const bends = { pointer: 0, arc: 1, chord: 1, mirror: 2 } as const

const keyOf = (mark: LocatedMark): string => `${mark.pass}/${mark.direction ?? 1}`

/** Marks → runs by pass and direction, in the order they appear. */
const separate = (marks: readonly LocatedMark[]): LocatedMark[][] => {
  const keys = [...new Set(marks.map(keyOf))]
  return keys.map((key) => marks.filter((mark) => keyOf(mark) === key))
}

const slipWarning = ({ kind, place }: CountingSlip, { marks }: OrderedRun): string => {
  const [before, at] = marks.slice(place - 1, place + 1).map(markName)
  return kind === 'doubled'
    ? `From mark ${at} on all marks stand one microstep behind their commands, which a motor in step cannot do: about there (marks ${before}, ${at}) one was drawn twice, and it was left out of the count; a command lost on its way to the motor would look the same. Number the marks in a command column if that is not so.`
    : `From mark ${at} on all marks stand one microstep ahead of their commands, which a motor in step cannot do: a mark was left out about there (between marks ${before} and ${at}), and one command more was counted. Number the marks in a command column if that is not so.`
}

/** A mark drawn twice goes; one that was left out leaves its command to the mark after it. */
const mended = (ordered: OrderedRun, assignment: Assignment, slip: CountingSlip): { ordered: OrderedRun; assignment: Assignment } => {
  const warnings = [...assignment.warnings, slipWarning(slip, ordered)]
  if (slip.kind === 'left out') return { ordered, assignment: { ...assignment, decidedBy: 'fit', commands: assignment.commands + 1, lastCommand: assignment.lastCommand.map((command, m) => (m < slip.place ? command : command + 1)), perhapsLeftOut: [slip.place], others: [], warnings } }
  const kept = <T>(values: readonly T[]): T[] => values.filter((_, m) => m !== slip.place)
  return { ordered: { ...ordered, marks: kept(ordered.marks), anglesDeg: kept(ordered.anglesDeg) }, assignment: { ...assignment, decidedBy: 'fit', commands: assignment.commands - 1, lastCommand: assignment.lastCommand.slice(0, -1), others: [], warnings } }
}

interface Counted {
  readonly ordered: OrderedRun
  readonly assignment: Assignment
}

/** Marks drawn twice or left out among those a run is looked over for. */
const mostSlips = 3

/** Without the marks drawn twice, and with a command for a mark left out, as far as the pattern of the trace shows them. */
const withoutSlips = (counted: Counted, { microstepDeg, microsteps, bend }: AssignOptions, left: number = mostSlips): Counted => {
  const { ordered, assignment } = counted
  const slip = left > 0 ? countingSlip(ordered.anglesDeg.map((angle) => angle / microstepDeg), { microsteps, bend }) : null
  if (!slip) return counted
  const better = mended(ordered, assignment, slip)
  return slip.kind === 'doubled' ? withoutSlips(better, { microstepDeg, microsteps, bend } as AssignOptions, left - 1) : better
}

/** A pair that may be one mark drawn twice: counted so as well, and said. */
const withPair = ({ ordered, assignment }: Counted, { microstepDeg, microsteps }: AssignOptions): Counted => {
  const place = assignment.others.length > 0 ? null : lonePair(ordered.anglesDeg.map((angle) => angle / microstepDeg), microsteps)
  if (place === null) return { ordered, assignment }
  const other = assignment.lastCommand.map((command, m) => (m < place ? command : command - 1))
  const pair = ordered.marks.slice(place - 1, place + 1).map(markName)
  const said = `Marks ${pair.join(' and ')} stand at one place and all later ones a microstep behind: one of them was drawn twice, or that command moved nothing. Which it is, no verdict here hangs on; number them in a command column to settle it.`
  return { ordered, assignment: { ...assignment, others: [other], warnings: [...assignment.warnings, said] } }
}

/** Marks that were only counted are looked over for some too many or too few. */
const lookedOver = (counted: Counted, options: AssignOptions): Counted => {
  const { ordered, assignment } = counted
  if (assignment.decidedBy !== 'order' || options.commands !== null || assignment.closed || ordered.warnings.length > 0) return counted
  const better = withoutSlips(counted, options)
  return better.assignment.lastCommand.at(-1) === better.ordered.marks.length - 1 ? withPair(better, options) : better
}

/** There and back within passes that were numbered, with nothing said about direction. */
const splitWithin = (marks: readonly LocatedMark[], options: SplitOptions): SplitPasses => {
  const passes = [...new Set(marks.map(({ pass }) => pass))]
  if (passes.length < 2 || marks.some((mark) => labelled({ ...mark, pass: 1 }))) return splitPasses(marks, options)
  const split = passes.map((pass) => splitPasses(marks.filter((mark) => mark.pass === pass).map((mark) => ({ ...mark, pass: 1 })), options))
  if (split.some((each) => each.marks.some(({ pass }) => pass > 1))) return { marks, warnings: [] }
  return { marks: split.flatMap((each, i) => each.marks.map((mark) => ({ ...mark, pass: passes[i] ?? 1 }))), warnings: split.flatMap(({ warnings }) => warnings.slice(0, 1)).slice(0, 1) }
}

/** Passes that nobody labelled, by the way the shaft went or by marks that stand together. */
const toldApart = ({ ordered, motor: { microsteps } }: Trace, { marks, turnDeg }: Located, microstepDeg: number): { marks: readonly LocatedMark[]; warnings: readonly string[]; decidedBy?: Assignment['decidedBy'] } => {
  const options = { fullStepDeg: microstepDeg * microsteps, microstepDeg, turnDeg, ordered }
  const split = ordered ? splitWithin(marks, options) : { marks, warnings: [] }
  return split.marks !== marks || marks.some(labelled) ? split : (repeatedMarks(marks, options) ?? split)
}

/** How many marks most of the runs have that were counted by their order; null where they agree, or none is in the majority. */
const usualMarks = (runs: readonly Run[]): number | null => {
  const counts = runs.filter(({ assignment }) => assignment.decidedBy === 'order').map(({ ordered }) => ordered.marks.length)
  const usual = counts.find((count) => counts.filter((each) => each === count).length > runs.length / 2)
  return usual === undefined || counts.every((count) => count === usual) ? null : usual
}

/** Runs counted by their order that have one mark more or less than most of them do not say which: they are left out, and said. */
const withoutOdd = (runs: readonly Run[]): readonly Run[] => {
  const usual = usualMarks(runs)
  if (usual === null) return runs
  const odd = runs.filter(({ assignment, ordered }) => assignment.decidedBy === 'order' && ordered.marks.length !== usual)
  const kept = runs.filter((run) => !odd.includes(run))
  const said = odd.map(({ pass, direction, ordered }) => `Pass ${pass}${direction === 1 ? '' : ' back'} has ${ordered.marks.length} marks where most have ${usual}: one was left out or written twice, and which cannot be told, so it was left out. Number its marks in a command column.`)
  return kept.map((run, i) => (i === 0 ? { ...run, assignment: { ...run.assignment, warnings: [...said, ...run.assignment.warnings] } } : run))
}

/** Every run of a trace with its commands assigned. */
export const runsOf = (trace: Trace, located: Located): readonly Run[] | Unmeasurable => {
  const { stepsPerRev, microsteps } = trace.motor
  const microstepDeg = 360 / stepsPerRev / microsteps
  const runs: Run[] = []
  const split = toldApart(trace, located, microstepDeg)
  for (const marks of separate(split.marks)) {
    const inOrder = orderRun(marks, located, trace.ordered, microstepDeg)
    const uDeg = marks.reduce((most, mark) => Math.max(most, mark.uDeg ?? 0), 0)
    const options: AssignOptions = { microstepDeg, microsteps, turnDeg: located.turnDeg, commands: trace.commands, uDeg, bend: bends[trace.rig.kind], ordered: trace.ordered }
    const assigned = assign(inOrder, options)
    if (isUnmeasurable(assigned)) return assigned
    const { ordered, assignment } = trace.ordered ? lookedOver({ ordered: inOrder, assignment: assigned }, options) : { ordered: inOrder, assignment: assigned }
    const [first] = marks
    const decidedBy = split.decidedBy ?? assignment.decidedBy
    const other = decidedBy === 'fit' && trace.commands === null ? otherSteps(ordered, assignment.lastCommand, { stepsPerRev, microsteps, uDeg, bend: options.bend }) : null
    const perMark = assignment.lastCommand[1] ?? 1
    const own = [...(other ? [otherStepsSentence(other, stepsPerRev, perMark)] : []), ...assignment.warnings]
    const labels = decidedBy === 'command' ? 'command numbers' : decidedBy === 'tally' ? 'tallies' : null
    const contradicted = labels !== null && trace.commands !== null && trace.commands !== assignment.commands ? [`${trace.commands} commands were stated, but the ${labels} make ${assignment.commands}: the ${labels === 'tallies' ? labels : 'numbers'} were taken.`] : []
    const said = runs.length === 0 ? [...split.warnings, ...contradicted, ...own] : own
    runs.push({ pass: first?.pass ?? 1, direction: first?.direction ?? 1, ordered, assignment: { ...assignment, decidedBy, warnings: said }, rests: restsOf(ordered, assignment, located.turnDeg), otherSteps: other })
  }
  return withoutOdd(runs)
}

/** The run with its commands counted in each of the other ways that are nearly as likely. */
export const countedOtherwise = (run: Run, turnDeg: number | null): readonly Run[] =>
  run.assignment.others.map((lastCommand) => {
    const assignment: Assignment = { ...run.assignment, lastCommand, commands: run.assignment.closed ? run.assignment.commands : (lastCommand.at(-1) ?? 0), perhapsLeftOut: perhapsLeftOut(lastCommand) }
    return { ...run, assignment, rests: restsOf(run.ordered, assignment, turnDeg) }
  })

/** Outward runs come first in every judgement; a trace of returns alone is judged on its first. */
export const mainRun = (runs: readonly Run[]): Run => (runs.find((run) => run.direction === 1) ?? runs[0]) as Run

/** Name of the mark on which the rest at a place of the run stands. */
export const nameAt = ({ assignment, ordered }: Run, place: number): string =>
  markNameAt(ordered.marks, Math.max(0, assignment.lastCommand.findIndex((command) => command >= place)))
