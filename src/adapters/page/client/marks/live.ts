import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { quickFigures, type QuickFigures } from '#core/review/quick-figures'
import type { Reviewed } from '#core/review/reviewed'
import { setUpOfWork } from '#core/review/trace-of-work'
import { gearRatio } from '#core/rig/shaft-angle'
import type { Result } from '#core/report/result-schema'
import { bench, resultOf } from '#adapters/page/client/app/bench'
import { createStore } from '#adapters/page/client/app/store'

/** Rests as they are drawn: angles of the shaft per command, and what follows from them at once. */
export interface LiveRests {
  readonly anglesDeg: readonly number[]
  readonly figures: QuickFigures
}

/** The marks under the hand while it drags; null when nothing is being dragged. */
export const live = createStore<{ readonly dragged: Reviewed | null; readonly id: string | null; readonly rests: LiveRests | null }>({ dragged: null, id: null, rests: null })

const turnAway = (deg: number): number => deg - 360 * Math.round(deg / 360)

const shiftOf = (before: Reviewed, after: Reviewed): readonly number[] => {
  const next = after.marks === before.marks ? before.marks : after.marks
  return before.marks.map((mark, i) => {
    const moved = next[i]?.id === mark.id ? next[i] : next.find(({ id }) => id === mark.id)
    if (!moved || moved === mark) return 0
    return mark.angleDeg === null || moved.angleDeg === null ? 0 : turnAway(moved.angleDeg - mark.angleDeg)
  })
}

/** The last measurement's rests, moved by as much as their marks were. Exact for increments; rig corrections stay as they were. */
const movedRests = (result: Result, before: Reviewed, after: Reviewed): LiveRests => {
  const { rests } = bench.get()
  const gear = gearOf()
  const shift = shiftOf(before, after)
  const anglesDeg = result.rests.map(({ angleDeg }, k) => angleDeg + (rests?.sign ?? 1) * gear * (shift[rests?.markOfRest[k] ?? -1] ?? 0))
  return { anglesDeg, figures: quickFigures(anglesDeg, result) }
}

/** Motor turns per turn of the pointer, as the set-up says. */
const gearOf = (): number => {
  const { work } = bench.get()
  const setUp = work && setUpOfWork(work)
  return setUp && !isUnmeasurable(setUp) ? gearRatio(setUp.gears ?? []) : 1
}

/** Follows a drag: everything that can be known within the frame. */
export const follow = (after: Reviewed, id: string | null): void => {
  const { state } = bench.get()
  const result = resultOf(bench.get())
  live.set({ dragged: after, id, rests: state && result ? movedRests(result, state, after) : null })
}

export const letGo = (): void => live.set({ dragged: null, id: null, rests: null })
