import { median } from 'simple-statistics'
import type { DetectedMark, Detection } from '#core/detect/detection'
import { bearing, toPlane } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import type { Reviewed, ReviewedMark } from './reviewed.ts'
import type { Stroke } from './work.ts'

/** Standard uncertainty of a stroke put down by hand with the magnifier, px (common practice, no source). */
const handPx = 1

export const middleOf = ({ p0, p1 }: Stroke): Point => [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2]

const degrees = 180 / Math.PI
const inTurn = (deg: number): number => ((deg % 360) + 360) % 360

type Frame = Pick<Reviewed, 'plane' | 'centrePx'>

/** Bearing of a stroke's middle about the centre on the paper, deg; 0 without a centre. */
export const bearingDeg = ({ plane, centrePx }: Frame, stroke: Stroke): number =>
  centrePx === null ? 0 : bearing(toPlane(plane, centrePx), toPlane(plane, middleOf(stroke))) * degrees

const handUDeg = ({ centrePx }: Frame, stroke: Stroke): number => {
  const [x, y] = middleOf(stroke)
  return centrePx === null ? 0 : (handPx / Math.max(1, Math.hypot(x - centrePx[0], y - centrePx[1]))) * degrees
}

/** Direction of a strip in the photo and mm per px along it, from its first and last mark. */
const stripOf = ({ marks }: Detection): { readonly along: Point; readonly mmPerPx: number | null } => {
  const first = marks[0]
  const last = marks.at(-1)
  if (!first || !last || first === last) return { along: [1, 0], mmPerPx: null }
  const [ax, ay] = middleOf(first)
  const [bx, by] = middleOf(last)
  const length = Math.hypot(bx - ax, by - ay) || 1
  const known = first.positionMm !== null && last.positionMm !== null
  return { along: [(bx - ax) / length, (by - ay) / length], mmPerPx: known ? ((last.positionMm ?? 0) - (first.positionMm ?? 0)) / length : null }
}

const slid = (mark: ReviewedMark, from: Stroke, to: Stroke, found: Detection): ReviewedMark => {
  const { along, mmPerPx } = stripOf(found)
  const [ax, ay] = middleOf(from)
  const [bx, by] = middleOf(to)
  const shift = (bx - ax) * along[0] + (by - ay) * along[1]
  const positionMm = mark.positionMm === null || mmPerPx === null ? mark.positionMm : mark.positionMm + shift * mmPerPx
  return { ...mark, ...to, positionPx: (mark.positionPx ?? 0) + shift, positionMm }
}

/**
 * The same mark at another place or seen from another centre. Its angle changes by as much as the bearing of its middle
 * does, so that a mark put back where it was has its first angle again.
 */
export const placed = (mark: ReviewedMark, to: Stroke, before: Reviewed, after: Frame): ReviewedMark => {
  if (before.found.rig === 'mirror' || mark.angleDeg === null) return slid(mark, mark, to, before.found)
  const turned = bearingDeg(after, to) - bearingDeg(before, mark)
  return { ...mark, p0: to.p0, p1: to.p1, angleDeg: inTurn(mark.angleDeg + turned) }
}

/** Uncertainties of a mark that is its own to `uOwnDeg`, deg, with what the photo's centre and perspective add. */
const uncertainties = (uOwnDeg: number, { centreUDeg, rectificationUDeg }: Detection): Pick<DetectedMark, 'uDeg' | 'uOwnDeg'> => ({
  uOwnDeg,
  uDeg: Math.hypot(uOwnDeg, centreUDeg ?? 0, rectificationUDeg ?? 0),
})

/** A mark that moved by hand is no surer than a hand is. */
export const byHand = (mark: ReviewedMark, state: Reviewed): ReviewedMark => ({
  ...mark,
  origin: mark.origin === 'added' ? 'added' : 'moved',
  ...(mark.uDeg === null ? {} : uncertainties(Math.max(mark.uOwnDeg ?? mark.uDeg, handUDeg(state, mark)), state.found)),
})

const usualWidth = (marks: readonly DetectedMark[]): number => (marks.length === 0 ? 4 : median(marks.map(({ widthPx }) => widthPx)))

/** A mark the tool did not find. */
export const addedMark = (id: string, stroke: Stroke, state: Reviewed): ReviewedMark => {
  const strip = state.found.rig === 'mirror'
  const fresh: ReviewedMark = {
    id, origin: 'added', accepted: true, command: null, tally: null,
    angleDeg: strip ? null : inTurn(bearingDeg(state, stroke)),
    ...(strip ? { uDeg: null, uOwnDeg: null } : uncertainties(handUDeg(state, stroke), state.found)),
    positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null,
    p0: stroke.p0, p1: stroke.p1, widthPx: usualWidth(state.marks), confidence: 1, multiplicity: 1,
  }
  const near = state.marks[0]
  if (!strip || !near) return fresh
  const { positionPx, positionMm } = slid(near, near, stroke, state.found)
  return { ...fresh, positionPx, positionMm, uPosition: near.uPosition, uOwnPosition: near.uOwnPosition }
}
