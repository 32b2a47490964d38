import type { LocatedMark } from '#core/rig/locate'

/** Rows told apart into passes, and what to say about it. */
export interface SplitPasses {
  readonly marks: readonly LocatedMark[]
  readonly warnings: readonly string[]
}

export interface SplitOptions {
  readonly fullStepDeg: number
  /** One turn at the shaft where the rig goes round; null otherwise. */
  readonly turnDeg: number | null
}

interface Segment {
  readonly direction: 1 | -1
  readonly pass: number
  readonly marks: LocatedMark[]
}

const labelled = (mark: LocatedMark): boolean => mark.command !== null || mark.tally !== null || mark.direction !== null || mark.pass !== 1

/** Angles unwrapped row by row. */
const unwrapped = (marks: readonly LocatedMark[], turn: number | null): number[] => {
  let last = marks[0]?.angleDeg ?? 0
  return marks.map(({ angleDeg }) => (last = turn === null ? angleDeg : angleDeg - turn * Math.round((angleDeg - last) / turn)))
}

/** How far back a shaft must go, in full steps, before it counts as a return and not as one reversed microstep. */
const turnedBack = 2
/** How near the first mark a new pass must begin, and how large the jump back to it must be, full steps. */
const nearStart = 0.75
const jumpBack = 3

/** Cuts after which another pass begins: 'restart' with a mark of its own, 'return' from the mark where the shaft turned. */
const cutsOf = (angles: readonly number[], { fullStepDeg, turnDeg }: SplitOptions): { at: number; kind: 'restart' | 'return' }[] => {
  const cuts: { at: number; kind: 'restart' | 'return' }[] = []
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

const segmentsOf = (marks: readonly LocatedMark[], cuts: ReturnType<typeof cutsOf>): Segment[] => {
  const segments: Segment[] = []
  const ends = [...cuts, { at: marks.length, kind: 'restart' as const }]
  let from = 0
  let [pass, direction]: [number, 1 | -1] = [1, 1]
  for (const { at, kind } of ends) {
    const to = kind === 'return' ? at + 1 : at
    segments.push({ direction, pass, marks: marks.slice(from, to) })
    if (kind === 'restart' || direction === -1) pass++
    direction = kind === 'return' ? (direction === 1 ? -1 : 1) : 1
    from = at
  }
  return segments
}

/** A pass has at least eight marks and hardly any way back in it; rows in no order have. */
const isOneWay = ({ marks }: Segment, turnDeg: number | null): boolean => {
  const angles = unwrapped(marks, turnDeg)
  const path = angles.slice(1).reduce((sum, angle, i) => sum + Math.abs(angle - (angles[i] ?? 0)), 0)
  return marks.length >= 8 && path <= 1.5 * Math.abs((angles.at(-1) ?? 0) - (angles[0] ?? 0))
}

/**
 * Several passes typed one after another without pass or direction: a jump back to the start begins a new pass, a sustained
 * way back a return, which shares the mark where the shaft turned. Rows that carry any label are left as they are.
 * @param marks in the order typed
 */
export const splitPasses = (marks: readonly LocatedMark[], options: SplitOptions): SplitPasses => {
  if (marks.some(labelled)) return { marks, warnings: [] }
  const cuts = cutsOf(unwrapped(marks, options.turnDeg), options)
  const segments = segmentsOf(marks, cuts)
  if (cuts.length === 0 || !segments.every((segment) => isOneWay(segment, options.turnDeg))) return { marks, warnings: [] }
  const named = segments.map(({ pass, direction, marks: own }) => `rows ${own[0]?.line} to ${own.at(-1)?.line} pass ${pass}${direction === 1 ? '' : ' back'}`)
  return {
    marks: segments.flatMap(({ pass, direction, marks: own }) => own.map((mark) => ({ ...mark, pass, direction }))),
    warnings: [`The rows were read as several passes (${named.slice(0, 6).join(', ')}${named.length > 6 ? ' …' : ''}). Give a pass and a direction column if that is not so.`],
  }
}
