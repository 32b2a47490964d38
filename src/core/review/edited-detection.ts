import type { Detection } from '#core/detect/detection'
import { isDoubtful, type Reviewed } from './reviewed.ts'
import type { Edit } from './work.ts'

/** What the tool found and what a person changed, kept beside the marks that were measured. */
export interface EditRecord {
  readonly found: Pick<Detection, 'centrePx' | 'cornersPx' | 'marks'>
  readonly changes: readonly Edit[]
}

/** One px each way, as a hand puts it (common practice, no source). */
const handCovariance: readonly [number, number, number] = [1, 0, 1]

/** Angle that one px of doubt in the centre puts into a mark, deg, at the usual radius. */
const centreU = ({ centrePx, marks }: Reviewed): number => {
  if (!centrePx || marks.length === 0) return 0
  const radii = marks.map(({ p0, p1 }) => Math.hypot((p0[0] + p1[0]) / 2 - centrePx[0], (p0[1] + p1[1]) / 2 - centrePx[1]))
  return (Math.SQRT1_2 * 180) / Math.PI / (radii.reduce((sum, radius) => sum + radius, 0) / radii.length)
}

/** Reviewed marks → the detection that is measured, with the record of every change when there was one. */
export const editedDetection = (state: Reviewed, changes: readonly Edit[]): Detection & { readonly edited?: EditRecord } => {
  const { found, marks, centrePx, cornersPx } = state
  if (changes.length === 0) return found
  const left = marks.filter(isDoubtful).length
  return {
    ...found,
    centrePx,
    cornersPx,
    ...(state.centreMoved ? { centreCovariancePx: handCovariance, centreUDeg: centreU(state) } : {}),
    rectifiedBy: changes.some(({ kind }) => kind === 'corners') ? 'corners' : found.rectifiedBy,
    plane: state.plane,
    marks: marks.map(({ id: _id, origin: _origin, accepted: _accepted, command: _command, tally: _tally, ...mark }) => mark),
    doubts: [...found.doubts, ...(left > 0 ? [`${left} doubtful marks were left as found.`] : [])],
    edited: { found: { centrePx: found.centrePx, cornersPx: found.cornersPx, marks: found.marks }, changes },
  }
}
