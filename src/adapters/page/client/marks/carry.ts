import type { Point } from '#core/detect/raster'
import { applyEdit } from '#core/review/apply-edit'
import type { Reviewed } from '#core/review/reviewed'
import type { Edit } from '#core/review/work'
import type { Handle } from './handle.ts'

type Unstamped = Edit extends infer E ? (E extends Edit ? Omit<E, 'at'> : never) : never

const shifted = ([x, y]: Point, [dx, dy]: Point): Point => [x + dx, y + dy]

/** The edit that moving a handle by so many photo px makes; null for a handle that is not there. */
export const carried = (handle: Handle, by: Point, state: Reviewed): Unstamped | null => {
  if (handle.kind === 'centre') return state.centrePx && { kind: 'centre', to: shifted(state.centrePx, by) }
  if (handle.kind === 'corner') {
    const [a, b, c, d] = (state.cornersPx ?? []).map((corner, i) => (i === handle.index ? shifted(corner, by) : corner))
    return a && b && c && d ? { kind: 'corners', to: [a, b, c, d] } : null
  }
  const mark = state.marks.find(({ id }) => id === handle.id)
  if (!mark) return null
  const p0 = handle.part === 'p1' ? mark.p0 : shifted(mark.p0, by)
  const p1 = handle.part === 'p0' ? mark.p1 : shifted(mark.p1, by)
  return { kind: 'move', mark: mark.id, p0, p1 }
}

/** The marks as they would be after an edit not made yet. */
export const preview = (state: Reviewed, edit: Unstamped): Reviewed => applyEdit(state, { ...edit, at: '' } as Edit)

/** Sideways for a mark: at right angles to the line from the centre, counter-clockwise as seen; photo px. */
export const sideways = ({ centrePx }: Reviewed, [x, y]: Point): Point => {
  if (!centrePx) return [1, 0]
  const [dx, dy] = [x - centrePx[0], y - centrePx[1]]
  const length = Math.hypot(dx, dy) || 1
  return [dy / length, -dx / length]
}

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1] ?? 40

/** A new stroke with its middle at a place: along the line from the centre, as long as the others. */
export const strokeAt = (state: Reviewed, at: Point): { readonly p0: Point; readonly p1: Point } => {
  const half = median(state.marks.map(({ p0, p1 }) => Math.hypot(p1[0] - p0[0], p1[1] - p0[1]))) / 2
  const [sx, sy] = sideways(state, at)
  const out: Point = state.centrePx ? [-sy * half, sx * half] : [0, half]
  return { p0: [at[0] - out[0], at[1] - out[1]], p1: [at[0] + out[0], at[1] + out[1]] }
}
