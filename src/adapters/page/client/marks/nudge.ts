import type { Point } from '#core/detect/raster'
import { bench, change, edit } from '#adapters/page/client/app/bench'
import { applyEdit, reviewedOf } from '#core/review/apply-edit'
import type { Edit } from '#core/review/work'
import { carried, sideways } from './carry.ts'
import { placeOf } from './handle.ts'
import { chosen } from './marks-state.ts'

let last = { at: 0, handle: '' }

const about = (edit: Edit | undefined): string => (edit ? `${edit.kind}/${'mark' in edit ? edit.mark : ''}` : '')

/** Moves the selected handle by photo px; quick repeats are one edit. */
export const nudge = (by: Point): void => {
  const { work, state } = bench.get()
  const { handle } = chosen.get()
  const what = work && state && handle ? carried(handle, by, state) : null
  if (!work || !state || !what) return
  const now = performance.now()
  const top = work.edits[work.applied - 1]
  const again = now - last.at < 900 && last.handle === JSON.stringify(handle) && about(top) === about({ ...what, at: '' } as Edit) && work.applied === work.edits.length
  last = { at: now, handle: JSON.stringify(handle) }
  if (!again) {
    edit(what)
    return
  }
  const stamped = { ...what, at: new Date().toISOString() } as Edit
  const edits = [...work.edits.slice(0, -1), stamped]
  const next = { ...work, edits }
  change(next, stamped.kind === 'move' ? applyEdit(state, stamped) : reviewedOf(next))
}

/** Round the dial (counter-clockwise positive) for a mark, to the right for centre and corners. */
export const nudgeAlong = (px: number, outward = 0): void => {
  const { state } = bench.get()
  const { handle } = chosen.get()
  const at = state && handle ? placeOf(handle, state) : null
  if (!state || !handle || !at) return
  if (handle.kind !== 'mark') {
    nudge([px, -outward])
    return
  }
  const [sx, sy] = sideways(state, at)
  nudge([sx * px - sy * outward, sy * px + sx * outward])
}
