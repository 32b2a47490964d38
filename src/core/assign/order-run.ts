import { extremes, mean } from '#core/numeric/moments'
import type { Located, LocatedMark } from '#core/rig/locate'

/** Marks of one run in the order the shaft met them, angles unwrapped and turned so that travel is positive. */
export interface OrderedRun {
  readonly marks: readonly LocatedMark[]
  /** deg at the shaft, travel positive; the first is 0. */
  readonly anglesDeg: readonly number[]
  /** Angle of the first mark as located, and the direction of travel there (+1 counter-clockwise or along the scale). */
  readonly startDeg: number
  readonly sign: 1 | -1
  readonly warnings: readonly string[]
}

/** The turn-equivalent of an angle that lies nearest to another. */
const nearest = (angle: number, to: number, turn: number | null): number =>
  turn === null ? angle : angle - turn * Math.round((angle - to) / turn)

/** Angles in a row, each within half a turn of the one before; as they are where nothing goes round. */
export const unwrapped = (angles: readonly number[], turn: number | null): number[] => {
  let last = angles[0] ?? 0
  return angles.map((angle) => (last = nearest(angle, last, turn)))
}

/** Which of two marks before says where a mark is to be looked for: that by which it is less off, so that one slip of the typing leads none astray. */
const following = (angle: number, before: readonly number[], moves: readonly number[], turn: number | null): number => {
  const tries = before.map((from, i) => ({ found: nearest(angle, from + (moves[i] ?? 0), turn), expected: from + (moves[i] ?? 0) }))
  return tries.reduce((best, next) => (Math.abs(next.found - next.expected) < Math.abs(best.found - best.expected) ? next : best)).found
}

/** Angles labelled with their commands: each within half a turn of where the marks before it and their commands make it, whatever those add up to, in the direction that fits step by step (a lost electrical cycle may outweigh it from end to end). */
const unwrappedByCommand = (marks: readonly LocatedMark[], turn: number | null, microstepDeg: number): { angles: number[]; sign: 1 | -1 } => {
  const commanded = marks.map(({ command }) => microstepDeg * (command ?? 0))
  const tries = ([1, -1] as const).map((sign) => {
    const angles: number[] = []
    for (const [i, { angleDeg }] of marks.entries()) {
      const before = [i - 1, i - 2].filter((place) => place >= 0)
      const moves = before.map((place) => sign * ((commanded[i] ?? 0) - (commanded[place] ?? 0)))
      angles.push(i === 0 ? angleDeg : following(angleDeg, before.map((place) => angles[place] ?? 0), moves, turn))
    }
    const misses = angles.map((angle, i) => angle - sign * (commanded[i] ?? 0))
    return { angles, sign, spread: mean(misses.slice(1).map((miss, i) => Math.abs(miss - (misses[i] ?? 0)))) }
  })
  const [forward, backward] = tries
  return forward && backward && forward.spread > backward.spread ? backward : (forward as (typeof tries)[0])
}

/** Around a dial, beginning behind the widest empty stretch. */
export const aroundDial = (marks: readonly LocatedMark[], turn: number): LocatedMark[] => {
  const inTurn = (mark: LocatedMark): number => mark.angleDeg - turn * Math.floor(mark.angleDeg / turn)
  const sorted = marks.toSorted((a, b) => inTurn(a) - inTurn(b))
  const gaps = sorted.map((mark, i) => inTurn(mark) - inTurn(sorted.at(i - 1) as LocatedMark) + (i === 0 ? turn : 0))
  const widest = gaps.indexOf(gaps.reduce((most, gap) => Math.max(most, gap), 0))
  return [...sorted.slice(widest), ...sorted.slice(0, widest)]
}

/** A whole turn typed in no order holds its start twice: of the two marks that stand closest the second goes. */
const withoutSecondStart = (sorted: LocatedMark[], turn: number, commandsPerTurn: number): LocatedMark[] => {
  if (sorted.length !== commandsPerTurn + 1) return sorted
  const inTurn = (mark: LocatedMark): number => mark.angleDeg - turn * Math.floor(mark.angleDeg / turn)
  const gaps = sorted.map((mark, i) => (inTurn(mark) - inTurn(sorted.at(i - 1) as LocatedMark) + turn) % turn)
  const closest = gaps.indexOf(gaps.reduce((least, gap) => Math.min(least, gap), turn))
  return sorted.filter((_, i) => i !== closest)
}

/** Along a scale, lowest first. */
export const alongScale = (marks: readonly LocatedMark[]): LocatedMark[] => marks.toSorted((a, b) => a.angleDeg - b.angleDeg)

/**
 * The way from row to row is more than twice the way from end to end. The longest jump does not count, being where a motor
 * may have lost its step.
 */
const wanders = (angles: readonly number[]): boolean => {
  const steps = angles.slice(1).map((angle, i) => angle - (angles[i] ?? 0))
  const jump = steps.reduce((most, step) => (Math.abs(step) > Math.abs(most) ? step : most), 0)
  const way = steps.reduce((sum, step) => sum + Math.abs(step), 0) - Math.abs(jump)
  return way > 2 * Math.abs((angles.at(-1) ?? 0) - (angles[0] ?? 0) - jump) + 1e-9
}

/** Rows were typed in no order of travel: not if they would be in order but for one, where a finger slipped. */
const isShuffled = (angles: readonly number[]): boolean => {
  if (!wanders(angles)) return false
  const steps = angles.slice(1).map((angle, i) => Math.abs(angle - (angles[i] ?? 0)))
  const jump = steps.indexOf(extremes(steps)[1])
  return [jump, jump + 1].every((slip) => wanders(angles.filter((_, row) => row !== slip)))
}

const finished = (marks: readonly LocatedMark[], angles: readonly number[], sign: 1 | -1, warnings: readonly string[] = []): OrderedRun => {
  const startDeg = angles[0] ?? 0
  return { marks, anglesDeg: angles.map((angle) => sign * (angle - startDeg)), startDeg, sign, warnings }
}

/**
 * Puts the marks of one run in order: by command where all carry one, as typed where they have an order, else around
 * the dial or along the scale.
 * @param ordered false for a photo, whose marks have no order of their own
 */
export const orderRun = (marks: readonly LocatedMark[], { turnDeg }: Located, ordered: boolean, microstepDeg: number): OrderedRun => {
  if (marks.every((mark) => mark.command !== null)) {
    const sorted = marks.toSorted((a, b) => (a.command ?? 0) - (b.command ?? 0))
    const { angles, sign } = unwrappedByCommand(sorted, turnDeg, microstepDeg)
    return finished(sorted, angles, sign)
  }
  const typed = unwrapped(marks.map((mark) => mark.angleDeg), turnDeg)
  const rising = (typed.at(-1) ?? 0) >= (typed[0] ?? 0)
  if (ordered && !isShuffled(typed)) return finished(marks, typed, rising ? 1 : -1)
  const sorted = turnDeg === null ? alongScale(marks) : withoutSecondStart(aroundDial(marks, turnDeg), turnDeg, ordered ? Math.round(turnDeg / microstepDeg) : 0)
  const warnings = ordered ? ['The rows are in no order of travel; they were read in order of their position, so a shaft that moved backwards cannot be seen. Number them in a command column.'] : []
  return finished(sorted, unwrapped(sorted.map((mark) => mark.angleDeg), turnDeg), 1, warnings)
}
