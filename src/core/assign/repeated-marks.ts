import { countGaps } from '#core/numeric/count-gaps'
import { extremes, mean, standardDeviation } from '#core/numeric/moments'
import type { LocatedMark } from '#core/rig/locate'
import { markName } from './mark-name.ts'
import { alongScale, aroundDial, unwrapped } from './order-run.ts'

/** Marks that stand for each command several times over, with command and pass given to each; and what to say about it. */
export interface RepeatedMarks {
  readonly marks: readonly LocatedMark[]
  readonly decidedBy: 'order' | 'fit'
  readonly warnings: readonly string[]
}

export interface RepeatOptions {
  /** δ and α, deg at the shaft. */
  readonly microstepDeg: number
  readonly fullStepDeg: number
  /** One turn at the shaft where the rig goes round; null otherwise. */
  readonly turnDeg: number | null
  /** The rows stand in the order the marks were made. */
  readonly ordered: boolean
}

/** A place in the trace: its marks (by place among all), and the command that ended there. */
interface Group {
  readonly command: number
  readonly members: readonly number[]
}

/** Fewer marks per command than this are one pass with marks written twice here and there, at most. */
const leastOften = 1.35
const mostOften = 9
/** Marks of one command may drift from one to the next by this share of what commands move them. */
const onward = 0.15
/** e³: a number is twenty times likelier than the next one. */
const decisive = 3

/** Mean square distance from whole microsteps, microsteps², at which marks are still near enough to be counted. */
const loosest = 0.1
/** Share of the marks that may be left out because their command stays open. */
const mostOpen = 0.05

const ascending = (length: number): number[] => Array.from({ length }, (_, i) => i)

/** How often each command can have been marked: every count that goes into the marks and agrees with their span. */
const timesThatFit = (marks: number, spanned: number, slack: number): { times: number; commands: number }[] =>
  ascending(mostOften - 1)
    .map((i) => ({ times: i + 2, commands: marks / (i + 2) - 1 }))
    .filter(({ commands }) => Number.isInteger(commands) && Math.abs(commands - spanned) <= slack)

/** The mark made at a command in a pass, by place among the rows, for the ways people write several passes down. */
const writings = [
  { said: 'the marks of a command one after the other', place: (command: number, pass: number, times: number) => command * times + pass, back: false },
  { said: 'pass after pass', place: (command: number, pass: number, _: number, length: number) => pass * length + command, back: false },
  { said: 'there and back in turn', place: (command: number, pass: number, _: number, length: number) => pass * length + (pass % 2 === 0 ? command : length - 1 - command), back: true },
] as const

const near = (angle: number, to: number, turn: number | null): number => (turn === null ? angle : angle - turn * Math.round((angle - to) / turn))

/** Squares of marks about the middle of their group. */
const squaresWithin = (angles: readonly number[], groups: readonly Group[], turn: number | null): number =>
  groups.reduce((total, { members }) => {
    const own = members.map((m) => near(angles[m] ?? 0, angles[members[0] ?? 0] ?? 0, turn))
    const centre = mean(own)
    return total + own.reduce((sum, angle) => sum + (angle - centre) ** 2, 0)
  }, 0)

/** Marks of a group that go on as those of different groups do are no repeats: the steps per turn are wrong, or the microsteps. */
const goesOn = (angles: readonly number[], groups: readonly Group[]): boolean => {
  const steps = (places: readonly (readonly [number, number])[]): number => mean(places.map(([from, to]) => (angles[to] ?? 0) - (angles[from] ?? 0)))
  const within = groups.flatMap(({ members }) => members.slice(1).flatMap((m, i) => (m - (members[i] ?? 0) === 1 ? [[m - 1, m] as const] : [])))
  const between = groups.slice(1).map(({ members }, g) => [groups[g]?.members[0] ?? 0, members[0] ?? 0] as const)
  return within.length > 0 && Math.abs(steps(within)) > onward * Math.abs(steps(between))
}

/** Rows in the order made, every command the same number of times: the way of writing whose groups hold together best. */
const byWriting = (marks: readonly LocatedMark[], angles: readonly number[], options: RepeatOptions, spanned: number): RepeatedMarks | null => {
  const { microstepDeg, fullStepDeg, turnDeg } = options
  const slack = Math.max(1, fullStepDeg / microstepDeg / 2)
  const tries = timesThatFit(marks.length, spanned, slack).flatMap(({ times, commands }) =>
    writings.map((writing) => {
      const groups = ascending(commands + 1).map((command) => ({ command, members: ascending(times).map((pass) => writing.place(command, pass, times, commands + 1)) }))
      return { writing, times, groups, squares: squaresWithin(angles, groups, turnDeg) }
    }),
  )
  const best = tries.sort((a, b) => a.squares - b.squares)[0]
  if (!best || best.squares > marks.length * microstepDeg ** 2 || goesOn(angles, best.groups)) return null
  const numbered = best.groups.flatMap(({ command, members }) =>
    members.map((m, pass): LocatedMark => ({ ...(marks[m] as LocatedMark), command, ...(best.writing.back ? { pass: (pass >> 1) + 1, direction: pass % 2 === 0 ? 1 : -1 } : { pass: pass + 1 }) })),
  )
  return {
    marks: numbered,
    decidedBy: 'order',
    warnings: [`There are ${best.times} marks for each of ${best.groups.length} rest positions; they were read as ${best.times} passes, ${best.writing.said}. Give command and pass columns if that is not so.`],
  }
}

/** One mark in place of several of one command and pass. */
const joined = (marks: readonly LocatedMark[], turn: number | null): LocatedMark => {
  const first = marks[0] as LocatedMark
  const angleDeg = mean(marks.map(({ angleDeg: angle }) => near(angle, first.angleDeg, turn)))
  const u = marks.map(({ uDeg }) => uDeg)
  return { ...first, angleDeg, uDeg: u.every((each) => each !== null) ? Math.hypot(...u.map((each) => each ?? 0)) / u.length : null, multiplicity: 1 }
}

/** Marks of each group dealt out to so many passes, a different one first each time, so that no pass gets all the lowest. */
const dealt = (marks: readonly LocatedMark[], groups: readonly Group[], passes: number, turn: number | null): LocatedMark[] =>
  groups.flatMap(({ command, members }, g) =>
    ascending(passes).flatMap((pass) => {
      const own = members.filter((_, i) => (i + g) % passes === pass).map((m) => marks[m] as LocatedMark)
      return own.length === 0 ? [] : [{ ...joined(own, turn), command, pass: pass + 1 }]
    }),
  )

/** Commands a person marked now once, now twice or more often: counted by least squares, gaps of no command allowed; null where that leaves many numbers open. */
const byCounting = (marks: readonly LocatedMark[], angles: readonly number[], { microstepDeg, turnDeg }: RepeatOptions): RepeatedMarks | null => {
  const total = Math.round((angles.at(-1) ?? 0) / microstepDeg)
  // One more for each mark makes a gap of none a gap of one.
  const fit = countGaps({ positions: angles.map((angle, m) => angle / microstepDeg + m), total: total + marks.length - 1 })
  if (!fit) return null
  const noise = Math.max(fit.cost / marks.length, 1e-6)
  const open = fit.margins.map((margin) => margin / (2 * noise) < decisive)
  if (noise > loosest || open.filter(Boolean).length > mostOpen * marks.length) return null
  const counts = fit.counts.map((count, m) => count - m)
  const groups = [...new Set(counts)].map((command) => ({ command, members: counts.flatMap((count, m) => (count === command && !open[m] ? [m] : [])) }))
  if (groups.length < 3 || groups.some(({ members }) => members.length === 0) || goesOn(angles, groups)) return null
  const dropped = marks.filter((_, m) => open[m]).map(markName)
  const passes = groups.reduce((least, { members }) => Math.min(least, members.length), Number.POSITIVE_INFINITY)
  return {
    marks: dealt(marks, groups, passes, turnDeg),
    decidedBy: 'fit',
    warnings: [`The ${marks.length} marks stand at ${groups.length} places; those at one place were taken for the same command, marked several times${dropped.length === 0 ? '' : `, and ${dropped.length === 1 ? 'mark' : 'marks'} ${dropped.join(', ')}, which could belong to either of two, left out`}. Number them in a command column if that is not so.`],
  }
}

/** Standard deviation of marks about the middle of their block of so many, when the first block begins at `from`. */
const scatterInBlocks = (angles: readonly number[], times: number, from: number): number => {
  const blocks = ascending(Math.floor((angles.length - from) / times)).map((g) => angles.slice(from + g * times, from + (g + 1) * times))
  const squares = blocks.reduce((total, block) => total + (times - 1) * standardDeviation(block) ** 2, 0)
  return Math.sqrt(squares / (blocks.length * (times - 1)))
}

/** Blocks of one command each stand this many standard deviations apart, or scatter by no more than this share of a microstep: else neighbours mix. */
const clear = 3.5
const slight = 0.14

/** A whole turn begins and ends at the same place: the two blocks that stand closest are its first and its last. */
const fromItsStart = (blocks: readonly (readonly number[])[], angles: readonly number[], turn: number): (readonly number[])[] => {
  const middles = blocks.map((block) => mean(block.map((m) => angles[m] ?? 0)))
  const gaps = middles.map((middle, g) => middle - (middles.at(g - 1) ?? 0) + (g === 0 ? turn : 0))
  const start = gaps.indexOf(extremes(gaps)[0])
  return [...blocks.slice(start), ...blocks.slice(0, start)]
}

/** Marks in no order, all passes in one heap: as many to a command as there were passes, where they stand in blocks that do not mix. */
const byBlocks = (marks: readonly LocatedMark[], angles: readonly number[], options: RepeatOptions, spanned: number): RepeatedMarks | null => {
  const { microstepDeg, fullStepDeg, turnDeg } = options
  const slack = Math.max(1, fullStepDeg / microstepDeg / 2)
  for (const { times, commands } of timesThatFit(marks.length, spanned, slack)) {
    const blocks = ascending(commands + 1).map((g) => ascending(times).map((i) => g * times + i))
    const scatter = scatterInBlocks(angles, times, 0)
    const apart = blocks.slice(1).map(([first = 0], g) => mean(angles.slice(first, first + times)) - mean(angles.slice(g * times, (g + 1) * times)))
    const mixed = scatter > slight * microstepDeg && apart.some((gap) => gap < clear * scatter)
    const shifted = ascending(times - 1).some((i) => scatterInBlocks(angles, times, i + 1) < 1.5 * scatter)
    if (mixed || shifted) continue
    const round = turnDeg !== null && Math.abs(commands * microstepDeg - turnDeg) < microstepDeg / 2
    const groups = (round ? fromItsStart(blocks, angles, turnDeg) : blocks).map((members, command) => ({ command, members }))
    return {
      marks: dealt(marks, groups, times, turnDeg),
      decidedBy: 'order',
      warnings: [`The ${marks.length} marks stand ${times} by ${times}: they were read as ${times} passes over the same ${commands} commands. Nothing says which pass a mark belongs to, so drift between passes and reversal cannot be told; number them (command, pass, direction) for that.`],
    }
  }
  return null
}

/**
 * Several passes over the same commands without a label anywhere: found where there are clearly more marks than their span
 * holds commands, and given command and pass numbers where order or place settles them.
 * @param marks in the order typed, or in none
 * @returns null where there are no repeats, or nothing separates them
 */
export const repeatedMarks = (marks: readonly LocatedMark[], options: RepeatOptions): RepeatedMarks | null => {
  const { microstepDeg, turnDeg, ordered } = options
  const rows = ordered || turnDeg === null ? marks : aroundDial(marks, turnDeg)
  const inRows = ordered ? rows : turnDeg === null ? alongScale(rows) : rows
  const typed = unwrapped(inRows.map(({ angleDeg }) => angleDeg), turnDeg)
  const [lowest, highest] = extremes(typed)
  const spanned = (highest - lowest) / microstepDeg
  if (marks.length < leastOften * (spanned + 1) || marks.length < 8) return null
  if (!ordered) return byBlocks(inRows, typed, options, spanned)
  const found = byWriting(inRows, typed, options, spanned)
  if (found) return found
  const sign = (typed.at(-1) ?? 0) >= (typed[0] ?? 0) ? 1 : -1
  return byCounting(inRows, typed.map((angle) => sign * (angle - (typed[0] ?? 0))), options)
}
