import { middleOf } from '#core/review/place-mark'
import type { Point } from '#core/detect/raster'
import type { Reviewed, ReviewedMark } from '#core/review/reviewed'
import { toScreen, type View } from './view.ts'

/** Something a hand can take hold of. */
export type Handle =
  | { readonly kind: 'mark'; readonly id: string; readonly part: 'middle' | 'p0' | 'p1' }
  | { readonly kind: 'centre' }
  | { readonly kind: 'corner'; readonly index: number }

const far = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(ax - bx, ay - by)

/** Distance of a point from a stroke, all in one frame. */
const fromStroke = ([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number => {
  const [dx, dy] = [bx - ax, by - ay]
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)))
  return Math.hypot(x - ax - t * dx, y - ay - t * dy)
}

const nearestMark = (marks: readonly ReviewedMark[], at: Point, view: View): { readonly mark: ReviewedMark | null; readonly distance: number } => {
  let [best, distance]: [ReviewedMark | null, number] = [null, Number.POSITIVE_INFINITY]
  for (const mark of marks) {
    const away = fromStroke(at, toScreen(view, mark.p0), toScreen(view, mark.p1))
    if (away < distance) [best, distance] = [mark, away]
  }
  return { mark: best, distance }
}

export interface Reach {
  readonly view: View
  /** How near counts as on it, screen px: more for a finger. */
  readonly px: number
  readonly selected: string | null
  readonly paper: boolean
}

/** What lies under a place of the screen: ends of the selected mark first, then centre and corners, then the nearest mark. */
export const handleAt = ({ marks, centrePx, cornersPx }: Reviewed, at: Point, { view, px, selected, paper }: Reach): Handle | null => {
  const chosen = marks.find(({ id }) => id === selected)
  if (chosen && far(toScreen(view, chosen.p0), toScreen(view, chosen.p1)) > 3 * px) {
    if (far(at, toScreen(view, chosen.p0)) < px * 0.8) return { kind: 'mark', id: chosen.id, part: 'p0' }
    if (far(at, toScreen(view, chosen.p1)) < px * 0.8) return { kind: 'mark', id: chosen.id, part: 'p1' }
  }
  if (chosen && fromStroke(at, toScreen(view, chosen.p0), toScreen(view, chosen.p1)) < px) return { kind: 'mark', id: chosen.id, part: 'middle' }
  if (centrePx && far(at, toScreen(view, centrePx)) < px) return { kind: 'centre' }
  const corner = paper ? (cornersPx ?? []).findIndex((point) => far(at, toScreen(view, point)) < px) : -1
  if (corner >= 0) return { kind: 'corner', index: corner }
  const { mark, distance } = nearestMark(marks, at, view)
  return mark && distance < px ? { kind: 'mark', id: mark.id, part: 'middle' } : null
}

/** Where in the photo a handle is. */
export const placeOf = (handle: Handle, { marks, centrePx, cornersPx }: Reviewed): Point | null => {
  if (handle.kind === 'centre') return centrePx
  if (handle.kind === 'corner') return cornersPx?.[handle.index] ?? null
  const mark = marks.find(({ id }) => id === handle.id)
  return mark ? (handle.part === 'middle' ? middleOf(mark) : mark[handle.part]) : null
}
