import { mostCommandsPerMark } from '#core/ingest/check-marks'
import { countGaps, type GapCounts } from '#core/numeric/count-gaps'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { Assignment, Doubt } from './assignment.ts'
import { countingMisfit } from './counting-misfit.ts'
import { labelsToSettle } from './labels-to-settle.ts'
import { shiftIn, shiftSentence } from './lost-cycles.ts'
import { logWays } from './log-ways.ts'
import { markNameAt } from './mark-name.ts'
import type { OrderedRun } from './order-run.ts'
import { otherCounts } from './other-counts.ts'
import { stepsInOrder } from './other-steps.ts'
import { writeNumber } from '#core/quantity/write-number'

export interface AssignOptions {
  /** δ, deg at the shaft. */
  readonly microstepDeg: number
  /** N. */
  readonly microsteps: number
  /** One turn at the shaft when the rig goes round, deg; null otherwise. */
  readonly turnDeg: number | null
  /** K when stated. */
  readonly commands: number | null
  /** Standard uncertainty of a mark, deg; 0 when unknown. */
  readonly uDeg: number
  /** Highest power of the command that an error of the rig may take up: 0 pointer, 1 a radius, 2 a wall. */
  readonly bend: 0 | 1 | 2
  /** The marks come in the order in which they were made; those off a photo have none. */
  readonly ordered: boolean
}

/** e³: the chosen number is twenty times likelier than the next one. */
const decisive = 3

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

const byCommand = (run: OrderedRun): Assignment => {
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
const byTally = (run: OrderedRun, options: AssignOptions): Assignment => {
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
const byOrder = (run: OrderedRun): Assignment => {
  let total = -1
  return certain('order', run.marks.map((mark) => (total += mark.multiplicity)))
}

const restsIn = (run: OrderedRun): number => run.marks.reduce((sum, mark) => sum + mark.multiplicity, 0)

/** The dial is covered all round: what is left open is no wider than the other gaps, or than one full step. */
const goesRound = (run: OrderedRun, { turnDeg, microstepDeg, microsteps }: AssignOptions): boolean => {
  const angles = run.anglesDeg
  const last = angles.at(-1) ?? 0
  if (turnDeg === null || last > turnDeg - microstepDeg / 2) return false
  const widest = angles.slice(1).reduce((gap, angle, i) => Math.max(gap, angle - (angles[i] ?? 0)), 0)
  return turnDeg - last <= Math.max(1.25 * widest, Math.min(microsteps, 1.25) * microstepDeg)
}

/** Share by which a rig length may be wrong without anyone having noticed, by what it may bend: none, a radius, a wall. */
const wrongLength = [0, 0.03, 0.25] as const

/** Candidates for K from the span of the marks, the likeliest sorts first. */
const proposals = (run: OrderedRun, options: AssignOptions): { commands: number; closed: boolean }[] => {
  const { microstepDeg, microsteps, turnDeg } = options
  if (options.commands !== null) {
    const round = turnDeg !== null && Math.abs(options.commands * microstepDeg - turnDeg) < 1e-6 * turnDeg && restsIn(run) <= options.commands
    return [{ commands: options.commands, closed: round && goesRound(run, options) }]
  }
  // A whole turn with a mark of its own at its end, which a first step lost in the dead band may have kept short of the start.
  if (options.ordered && turnDeg !== null && restsIn(run) - 1 === Math.round(turnDeg / microstepDeg) && spanFits(run, { lastCommand: [restsIn(run) - 1] }, options)) return [{ commands: restsIn(run) - 1, closed: false }]
  if (turnDeg !== null && goesRound(run, options)) return [{ commands: Math.round(turnDeg / microstepDeg), closed: true }]
  const spanned = Math.max(1, Math.round((run.anglesDeg.at(-1) ?? 0) / microstepDeg))
  const counted = restsIn(run) - 1
  const near = Math.abs((run.anglesDeg.at(-1) ?? 0) / microstepDeg - counted) <= Math.max(1, microsteps / 2, wrongLength[options.bend] * counted)
  return [...new Set([...(near ? [counted] : []), ...(spanned >= counted ? [spanned] : [])])].map((commands) => ({ commands, closed: false }))
}

const noiseOf = (fit: GapCounts, marks: number, { uDeg, microstepDeg }: AssignOptions): number =>
  Math.max((uDeg / microstepDeg) ** 2, fit.cost / Math.max(1, marks - 1), 1e-6)

const doubtsOf = (fit: GapCounts, run: OrderedRun, noise: number): (Doubt & { readonly place: number })[] =>
  run.marks.flatMap((mark, m) => {
    const logOdds = (fit.margins[m] ?? Number.POSITIVE_INFINITY) / (2 * noise)
    return logOdds < decisive ? [{ place: m, line: mark.line, command: fit.counts[m] ?? 0, couldBe: fit.alternatives[m] ?? 0, logOdds }] : []
  })

const askForLabels = (doubts: readonly (Doubt & { readonly place: number })[], toLabel: readonly number[], marks: OrderedRun['marks']): string[] => {
  if (doubts.length === 0) return []
  const named = doubts.slice(0, 6).map(({ place, command, couldBe }) => `mark ${markNameAt(marks, place)} (command ${command}, or ${couldBe})`)
  return [`The marks alone do not settle which command they belong to: ${named.join(', ')}${doubts.length > 6 ? ` and ${doubts.length - 6} more` : ''}. Write the command number beside ${toLabel.length === 1 ? 'mark' : 'marks'} ${toLabel.map((place) => markNameAt(marks, place)).join(', ')} and give it in the command column; the others then follow.`]
}

/** Gaps of more than one command where there are only one or two of them among at least eight. */
const loneGaps = (counts: readonly number[]): { readonly mark: number; readonly from: number; readonly size: number }[] => {
  const gaps = counts.slice(1).map((count, i) => ({ mark: i + 1, from: counts[i] ?? 0, size: count - (counts[i] ?? 0) }))
  const wide = gaps.filter(({ size }) => size > 1)
  return wide.length > 2 || gaps.length < 8 ? [] : wide
}

const commandsWithin = (gaps: readonly { readonly from: number; readonly size: number }[]): number[] => gaps.flatMap(({ from, size }) => Array.from({ length: size - 1 }, (_, i) => from + 1 + i))

/** Commands of a counting without a mark where nearly every other has one. */
export const perhapsLeftOut = (lastCommand: readonly number[]): number[] => commandsWithin(loneGaps(lastCommand))

/**
 * Where nearly every gap holds one command and one or two hold more, a mark may simply have been left out: marks alone
 * cannot tell that from microsteps that merged.
 */
const overlooked = (counts: readonly number[], run: OrderedRun): Pick<Assignment, 'perhapsLeftOut' | 'warnings'> => {
  const wide = loneGaps(counts.slice(0, run.marks.length))
  if (wide.length === 0) return { perhapsLeftOut: [], warnings: [] }
  const named = wide.map(({ mark, size }) => `mark ${markNameAt(run.marks, mark)} (${size} commands)`).join(' and ')
  return {
    perhapsLeftOut: commandsWithin(wide),
    warnings: [`All gaps hold one command but the one before ${named}: a mark was left out there, or those microsteps merged. If it was left out, say so with command numbers on both sides.`],
  }
}

/** Counts for the gaps by least squares; a run that goes round gets the start mark again at its end. */
const byFit = (run: OrderedRun, commands: number, closed: boolean, options: AssignOptions): { assignment: Assignment; cost: number } | null => {
  const first = run.marks[0]?.command ?? 0
  const positions = run.anglesDeg.map((angle) => angle / options.microstepDeg)
  const known = run.marks.map((mark) => (mark.command === null ? null : mark.command - first))
  const problem = closed ? { positions: [...positions, (options.turnDeg ?? 0) / options.microstepDeg], total: commands, known: [...known, null] } : { positions, total: commands, known }
  const fit = countGaps(problem)
  if (!fit) return null
  const noise = noiseOf(fit, positions.length, options)
  const doubts = doubtsOf(fit, run, noise)
  const margin = fit.margins.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY) / (2 * noise)
  const lastCommand = fit.counts.slice(0, run.marks.length)
  const toLabel = labelsToSettle(problem, doubts.map(({ place }) => place), { noise, decisive })
  const gaps = overlooked(fit.counts, run)
  const logOdds = fit.margins.slice(0, run.marks.length).map((each) => (Number.isFinite(each) ? each / (2 * noise) : null))
  return {
    cost: fit.cost,
    assignment: {
      decidedBy: 'fit',
      commands,
      lastCommand,
      closed,
      ambiguous: doubts.length > 0,
      margin: Number.isFinite(margin) ? margin : null,
      logOdds,
      doubts: doubts.map(({ place: _, ...doubt }) => doubt),
      labelsToSettle: toLabel.flatMap((place) => run.marks[place]?.line ?? []),
      others: otherCounts({ lastCommand, commands, closed }, doubts),
      perhapsLeftOut: gaps.perhapsLeftOut,
      warnings: [...askForLabels(doubts, toLabel, run.marks), ...gaps.warnings],
    },
  }
}

/** What else may be wrong where one mark each is expected: marks off a photo have no numbers and no order to give them by. */
const ownCure = ({ marks }: OrderedRun, { ordered }: AssignOptions): string =>
  !ordered ? ', or on the overlay whether marks are missing or something else was read' : marks.every(({ command }) => command !== null) ? ', or the numbers in the command column' : ', or number the marks in a command column'

/** What to say when marks and commands cannot be brought together. */
const cannotFit = (run: OrderedRun, options: AssignOptions, commands: number, shifted: readonly string[] = []): Unmeasurable => {
  const span = run.anglesDeg.at(-1) ?? 0
  const spanned = span / options.microstepDeg
  const often = Math.round(restsIn(run) / (commands + 1))
  const again = often > 1 && options.ordered ? `about ${often} marks for each command: number them in a command column, and repeated runs in a pass column (or measure each pass by itself); else ` : ''
  const steps = stepsInOrder(run, options.microsteps)
  const instead = steps === null || Math.abs(steps * options.microsteps * options.microstepDeg - 360) < 1e-6 ? '' : ` (one command each would be a motor of ${steps} steps per turn)`
  const seen = shifted.map((sentence) => ` (${sentence.replace(/\.$/, '')})`).join('')
  return unmeasurable(
    `the marks span ${writeNumber(span, 4)}° at the shaft, which is ${writeNumber(spanned, 4)} microsteps of ${writeNumber(options.microstepDeg, 4)}°, but there are ${restsIn(run)} marks for ${commands} commands${seen}`,
    'the marks',
    `${again}check steps per revolution${instead}, microsteps, the unit and the rig${again ? '' : ownCure(run, options)}`,
  )
}

/** Span and commands must agree to a fifth (on a wall to two, its foot may be far off), or to one and a half full steps where that is more. */
const spanFits = (run: OrderedRun, assignment: Pick<Assignment, 'lastCommand'>, { microstepDeg, microsteps, bend }: AssignOptions): boolean => {
  const last = assignment.lastCommand.at(-1) ?? 0
  const miss = Math.abs((run.anglesDeg.at(-1) ?? 0) / microstepDeg - last)
  return miss <= Math.max(1.5 * microsteps, (bend === 2 ? 0.4 : 0.2) * last)
}

/** −2 log likelihood of a counting, noise unknown, and what it costs that this one was picked out of so many. */
const countingCost = (run: OrderedRun, { commands, lastCommand, closed }: Assignment, { microstepDeg, microsteps, bend, uDeg }: AssignOptions): number => {
  const marks = lastCommand.length
  const misfit = countingMisfit(run.anglesDeg.map((angle) => angle / microstepDeg), lastCommand, { microsteps, bend })
  const free = closed ? 0 : logWays(commands - 1, marks - 2)
  return marks * Math.log(Math.max(misfit / marks, (uDeg / microstepDeg) ** 2, 1e-6)) + 2 * free
}

const bestOfFits = (run: OrderedRun, options: AssignOptions): Assignment | Unmeasurable => {
  // A stated number far from the span, or a span that a slip has made huge, is refused before the counting, which takes long where nothing fits.
  const possible = proposals(run, options).filter(({ commands, closed }) => closed || (commands <= mostCommandsPerMark * restsIn(run) && spanFits(run, { lastCommand: [commands] }, options)))
  const fits = possible.flatMap(({ commands, closed }) => {
    const rests = closed ? commands : commands + 1
    const everyOne = restsIn(run) === rests
    if (everyOne && run.marks.every((mark) => mark.command === null)) return [{ assignment: { ...byOrder(run), commands, closed }, cost: 0 }]
    const fit = byFit(run, commands, closed, options)
    return fit ? [everyOne ? { ...fit, assignment: { ...byOrder(run), commands, closed } } : fit] : []
  })
  const [best, ...rivals] = fits.length > 1 ? fits.map((fit) => ({ ...fit, cost: countingCost(run, fit.assignment, options) })).sort((a, b) => a.cost - b.cost) : fits
  const close = rivals.filter(({ cost, assignment }) => !assignment.closed && cost - (best?.cost ?? 0) < 2 * decisive).map(({ assignment }) => assignment.lastCommand)
  return (best && { ...best.assignment, others: [...close, ...best.assignment.others] }) ?? cannotFit(run, options, options.commands ?? Math.round((run.anglesDeg.at(-1) ?? 0) / options.microstepDeg), options.commands === null ? shiftsOf(run, byOrder(run), options) : [])
}

/** Marks that fall off their commands by full steps: lost electrical cycles, or a mistake. */
const shiftsOf = (run: OrderedRun, { lastCommand }: Assignment, { microstepDeg, microsteps }: AssignOptions): string[] => {
  const shift = shiftIn(run.anglesDeg, lastCommand, { fullStepDeg: microstepDeg * microsteps, microsteps })
  return shift ? [shiftSentence(shift)] : []
}

/**
 * Which commands belong to which mark: by label, by tally, by plain order where every command has its mark, else by
 * least squares over all whole counts (exact).
 */
export const assign = (run: OrderedRun, options: AssignOptions): Assignment | Unmeasurable => {
  const labelled = run.marks.every((mark) => mark.command !== null)
  const tallied = run.marks.every((mark) => mark.tally !== null) && run.marks.some((mark) => mark.tally !== 0)
  const assignment = labelled ? byCommand(run) : tallied ? byTally(run, options) : bestOfFits(run, options)
  if ('kind' in assignment) return assignment
  const shifted = assignment.decidedBy === 'fit' ? [] : shiftsOf(run, assignment, options)
  return spanFits(run, assignment, options) ? { ...assignment, warnings: [...assignment.warnings, ...shifted] } : cannotFit(run, options, assignment.commands, shifted)
}
