import { apartFromRing } from './apart-from-ring.ts'
import type { Candidate } from '#core/detect/line/candidate'
import { radiusOf } from '#core/detect/centre/dial-centres'
import { type FittedMark, fittedMark } from '#core/detect/centre/seen-from-centre'
import { dropTwins, likenessOf, objectionTo } from './judge-marks.ts'
import { type PlaneMap, pxPerUnitAt, toPhoto } from '#core/detect/plane-map'
import type { Point, Raster } from '#core/detect/raster'
import type { Left } from './left-round.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { endsOf } from '#core/detect/stroke/stroke-model'
import type { Surface } from '#core/detect/surface'
import type { Refusal } from '#core/detect/detection'

/** The photo, its lines, and the plane and the places that marks may lie in. */
export interface Stage {
  readonly raster: Raster
  readonly candidates: readonly Candidate[]
  readonly map: PlaneMap
  readonly surface: Surface
  /** Whether a mark may lie there: on the paper and not in a region to ignore. */
  readonly usable: (px: Point) => boolean
}

export const refusalOf = ({ fit }: FittedMark, why: string): Refusal => ({ ...endsOf(fit.model), why })

/** Strokes sorted into marks and no marks. */
export interface Judged {
  readonly marks: readonly FittedMark[]
  readonly refused: readonly Refusal[]
  /** How many more marks there are since strokes that touch were read together. */
  readonly together: number
  /** What was left round the ring beside these marks, where that was looked at. */
  readonly left?: Left
}

/** Sorts fits into marks and refusals by what most have in common. */
export const judge = (fits: readonly (StrokeFit | null)[], map: PlaneMap, centre: Point): Judged => {
  const all = fits.flatMap((fit) => (fit === null ? [] : [fittedMark(fit, map, centre)]))
  const like = likenessOf(all)
  const judged = all.map((mark) => ({ mark, why: objectionTo(mark, like) }))
  const { kept, twins } = dropTwins(judged.filter((j) => j.why === null).map((j) => j.mark), pxPerUnitAt(map, toPhoto(map, [centre[0] + radiusOf(all), centre[1]])))
  const apart = apartFromRing(kept)
  const late = [...twins.map((m) => refusalOf(m, 'a second find of one mark')), ...[...apart].map((m) => refusalOf(m, 'away from the ring of marks'))]
  return { marks: kept.filter((m) => !apart.has(m)), refused: [...judged.flatMap(({ mark, why }) => (why === null ? [] : [refusalOf(mark, why)])), ...late], together: 0 }
}
