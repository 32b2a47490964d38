import type { LocatedMark } from '#core/rig/locate'
import { markNameAt } from './mark-name.ts'
import { unwrapped } from './order-run.ts'

/** Rows told apart into passes, and what to say about it. */
export interface SplitPasses {
  readonly marks: readonly LocatedMark[]
  readonly warnings: readonly string[]
}

export interface SplitOptions {
  /** α and δ, deg at the shaft. */
  readonly fullStepDeg: number
  readonly microstepDeg: number
  /** One turn at the shaft where the rig goes round; null otherwise. */
  readonly turnDeg: number | null
}

interface Segment {
  readonly direction: 1 | -1
  readonly pass: number
  readonly marks: LocatedMark[]
}

/** Whether anything beside its position is said of a mark. */
export const labelled = (mark: LocatedMark): boolean => mark.command !== null || mark.tally !== null || mark.direction !== null || mark.pass !== 1


/** How far back a shaft must go, in full steps, before it counts as a return and not as one reversed microstep. */
const turnedBack = 2
/** How near the first mark a new pass must begin, and how large the jump back to it must be, full steps. */
const nearStart = 0.75
const jumpBack = 3

/** Where another pass begins: `restart` from the start again, `return` from the mark where the shaft turned, `turn` where that rest has a mark of its own for the way back. */
interface Cut {
  readonly at: number
  readonly kind: 'restart' | 'return' | 'turn'
}

const cutsOf = (angles: readonly number[], { fullStepDeg, turnDeg }: SplitOptions): Cut[] => {
  const cuts: Cut[] = []
  let from = 0
  let furthest = 0
  let way = 0
  const fromStart = (angle: number): number => {
    const apart = angle - (angles[0] ?? 0)
    return Math.abs(turnDeg === null ? apart : apart - turnDeg * Math.round(apart / turnDeg))
  }
  for (let i = 1; i < angles.length; i++) {
    const [angle = 0, before = 0, start = 0] = [angles[i], angles[i - 1], angles[from]]
    const jumped = Math.abs(angle - before) > jumpBack * fullStepDeg && fromStart(angle) < nearStart * fullStepDeg && i - from > 4
    if (jumped) {
      cuts.push({ at: i, kind: 'restart' })
      from = i
      furthest = i
      way = 0
      continue
    }
    if (way === 0 && Math.abs(angle - start) > turnedBack * fullStepDeg) way = Math.sign(angle - start)
    if (way === 0 || way * (angle - (angles[furthest] ?? 0)) >= 0) furthest = i
    else if (way * ((angles[furthest] ?? 0) - angle) > turnedBack * fullStepDeg) {
      cuts.push({ at: furthest, kind: 'return' })
      from = furthest
      furthest = i
      way = -way
    }
  }
  return cuts
}

/** Which turns people give a second mark: none, all, those back at the start, those far out. */
const secondMarks = [() => false, () => true, (turn: number) => turn % 2 === 1, (turn: number) => turn % 2 === 0] as const

/**
 * Turns where the number of rows puts them: every way there and back holds the same commands, so that noise and the dead band at
 * a turn cannot shift it by a row.
 * @returns the cuts as found where the rows do not divide so, or no turn comes near the one found
 */
const regularTurns = (cuts: readonly Cut[], angles: readonly number[], { fullStepDeg, microstepDeg }: SplitOptions): readonly Cut[] => {
  if (cuts.some(({ kind }) => kind !== 'return')) return cuts
  const near = Math.max(1, fullStepDeg / microstepDeg)
  const regular = secondMarks.flatMap((second) => {
    const doubled = cuts.filter((_, turn) => second(turn)).length
    const commands = (angles.length - 1 - doubled) / (cuts.length + 1)
    const secondsUpTo = (turn: number): number => cuts.filter((_, earlier) => earlier <= turn && second(earlier)).length
    const turns = cuts.map((_, turn): Cut => ({ at: commands * (turn + 1) + secondsUpTo(turn), kind: second(turn) ? 'turn' : 'return' }))
    const off = turns.reduce((most, turn, i) => Math.max(most, Math.abs(turn.at - (cuts[i]?.at ?? 0))), 0)
    return Number.isInteger(commands) && off <= near ? [{ turns, off }] : []
  })
  return regular.sort((a, b) => a.off - b.off)[0]?.turns ?? cuts
}

const segmentsOf = (marks: readonly LocatedMark[], cuts: readonly Cut[]): Segment[] => {
  const segments: Segment[] = []
  const ends: readonly Cut[] = [...cuts, { at: marks.length, kind: 'restart' }]
  let from = 0
  let [pass, direction]: [number, 1 | -1] = [1, 1]
  for (const { at, kind } of ends) {
    const to = kind === 'return' ? at + 1 : at
    segments.push({ direction, pass, marks: marks.slice(from, to) })
    if (kind === 'restart' || direction === -1) pass++
    direction = kind === 'restart' ? 1 : direction === 1 ? -1 : 1
    from = at
  }
  return segments
}

/** A pass has at least six marks and hardly any way back in it; rows in no order have. */
const isOneWay = ({ marks }: Segment, turnDeg: number | null): boolean => {
  const angles = unwrapped(marks.map(({ angleDeg }) => angleDeg), turnDeg)
  const path = angles.slice(1).reduce((sum, angle, i) => sum + Math.abs(angle - (angles[i] ?? 0)), 0)
  return marks.length >= 6 && path <= 1.5 * Math.abs((angles.at(-1) ?? 0) - (angles[0] ?? 0))
}

/**
 * Several passes typed one after another without pass or direction: a jump back to the start begins a new pass, a sustained
 * way back a return, which shares the mark where the shaft turned. Rows that carry any label are left as they are.
 * @param marks in the order typed
 */
export const splitPasses = (marks: readonly LocatedMark[], options: SplitOptions): SplitPasses => {
  if (marks.some(labelled)) return { marks, warnings: [] }
  const angles = unwrapped(marks.map(({ angleDeg }) => angleDeg), options.turnDeg)
  const cuts = regularTurns(cutsOf(angles, options), angles, options)
  const segments = segmentsOf(marks, cuts)
  if (cuts.length === 0 || !segments.every((segment) => isOneWay(segment, options.turnDeg))) return { marks, warnings: [] }
  const named = segments.map(({ pass, direction, marks: own }) => `marks ${markNameAt(own, 0)} to ${markNameAt(own, -1)} pass ${pass}${direction === 1 ? '' : ' back'}`)
  return {
    marks: segments.flatMap(({ pass, direction, marks: own }) => own.map((mark) => ({ ...mark, pass, direction }))),
    warnings: [`The rows were read as several passes (${named.slice(0, 6).join(', ')}${named.length > 6 ? ' …' : ''}). Give a pass and a direction column if that is not so.`],
  }
}
