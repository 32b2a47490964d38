import { quantile } from '#core/numeric/median'
import type { FittedMark } from './fitted-mark.ts'
import { bearing, toPlane, turned } from '#core/detect/plane-map'
import { lookAgain, type Ring, type View, type Wanted } from './second-look.ts'
import type { StrokeModel } from '#core/detect/stroke/stroke-model'

const TURN = 2 * Math.PI
/** The next mark is looked for as far as this many usual gaps, or this many of the widest but a tenth, from the last. */
const USUAL = 2.5
const WIDE = 1.5

/** Offsets that can be reached from `last` in steps no longer than `step`, going up. */
const chain = (offsets: readonly number[], last: number, step: number): Set<number> => {
  const reached = new Set<number>()
  let end = last
  for (const offset of [...offsets].sort((a, b) => a - b)) {
    if (offset - end > step) break
    reached.add(offset)
    end = offset
  }
  return reached
}

/**
 * Looks where the ring has no known marks, and takes what follows on from the known ones without a wide gap: in a weak or
 * shaded part of the photo a whole stretch may have been overlooked.
 * @param marks known marks, three or more
 * @param ring where they are: its bearings have been looked at
 */
export const lookFarther = (view: View, marks: readonly FittedMark[], ring: Ring, wanted: Wanted): StrokeModel[] => {
  if (marks.length < 3 || ring.span >= TURN) return []
  const angles = marks.map((m) => turned(m.bearing - ring.from)).sort((a, b) => a - b)
  const gaps = angles.slice(1).map((a, i) => a - (angles[i] as number))
  const step = Math.max(USUAL * quantile(gaps, 0.5), WIDE * quantile(gaps, 0.9))
  const rest: Ring = { ...ring, from: ring.from + ring.span, span: TURN - ring.span }
  const found = lookAgain(view, rest, marks.map((m) => m.fit.model), wanted)
  const offsets = found.map(({ middle }) => turned(bearing(ring.centre, toPlane(view.map, middle)) - ring.from))
  const up = chain(offsets, angles[angles.length - 1] as number, step)
  const down = chain(offsets.map((o) => TURN - o), -(angles[0] as number), step)
  return found.filter((_, i) => up.has(offsets[i] as number) || down.has(TURN - (offsets[i] as number)))
}
