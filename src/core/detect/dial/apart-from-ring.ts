import { median } from '#core/numeric/median'
import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import { turnBetween } from '#core/detect/plane-map'

/** Nearest marks that a stroke is compared with: so near that a tilted camera makes little difference between them. */
const NEIGHBOURS = 6
/** A stroke that shares less than this part of its neighbours' radii is none of them. */
const SHARED = 0.12
/** Where more strokes than this share stand apart, the marks have been drawn in two rings. */
const MOST = 0.25

/** The nearest marks by bearing, found outward from a place in their order. */
const nearest = (marks: readonly FittedMark[], index: number): FittedMark[] => {
  const at = (i: number): FittedMark => marks[(i + marks.length) % marks.length] as FittedMark
  const own = at(index).bearing
  const away = (m: FittedMark): number => Math.abs(turnBetween(m.bearing, own))
  const found: FittedMark[] = []
  let [before, after] = [index - 1, index + 1]
  while (found.length < NEIGHBOURS) found.push(away(at(before)) < away(at(after)) ? at(before--) : at(after++))
  return found
}

/**
 * Strokes that aim at the shaft but lie inside or outside the ring that the marks beside them make, as the ones of numbers
 * written at a dial do; none when they are many, or the marks few.
 * @param marks in order of bearing
 */
export const apartFromRing = (marks: readonly FittedMark[]): ReadonlySet<FittedMark> => {
  if (marks.length <= NEIGHBOURS) return new Set()
  const apart = marks.filter((mark, i) => {
    const beside = nearest(marks, i)
    const [inner, outer] = [median(beside.map((m) => m.inner)), median(beside.map((m) => m.outer))]
    const shared = Math.min(mark.outer, outer) - Math.max(mark.inner, inner)
    return shared < SHARED * Math.min(mark.outer - mark.inner, outer - inner)
  })
  return new Set(apart.length > MOST * marks.length ? [] : apart)
}
