import type { Pointer } from './find-pointer.ts'
import type { FittedMark } from './fitted-mark.ts'
import type { Likeness } from './judge-marks.ts'
import { turnBetween } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import { centreLineAt } from '#core/detect/stroke/stroke-model'
import { median } from '#core/numeric/median'

/** Nearer to its middle line than this share of its half width, and all along this much broader than strokes are, it is that thing's own tip. */
const CENTRAL = 0.6
const BROADER = 1.4
/** A thing broader than this to either side where the ring begins has no tip among the marks, rad. */
const SLIM = 0.09
/** One thing has one tip of two edges: where more strokes look so, they are marks that touch. */
const MOST_TIPS = 2
/** Where the paper beside it is looked at, in widths of a stroke, and how much brighter or darker than that it is over all of its width. */
const FARTHEST = 4
const BESIDE = [4, 5, 6, 7, 8]
const DIFFERENT = 0.055

/** Over how many widths of a stroke what is seen at τ of it differs from the paper. */
const widthsAt = (raster: Raster, { model }: FittedMark['fit'], tau: number, width: number): number => {
  const [x, y] = centreLineAt(model, tau)
  const at = (widths: number): number => greyAt(raster, [x - widths * width * model.along[1], y + widths * width * model.along[0]])
  const paper = median(BESIDE.flatMap((k) => [at(k), at(-k)]).filter((v) => !Number.isNaN(v)))
  const reach = (sign: 1 | -1): number => {
    let widths = 0
    while (widths < FARTHEST && Math.abs(at(sign * widths) / paper - 1) > DIFFERENT) widths += 0.1
    return widths
  }
  return reach(1) + reach(-1)
}

/** Which strokes round a shaft are the end of what lies over the paper, and no marks: at most two, none where it is broad. */
export const tipsAmong = (raster: Raster, marks: readonly FittedMark[], { bearing, halfWidth }: Pointer, like: Likeness): ReadonlySet<FittedMark> => {
  if (halfWidth > SLIM) return new Set()
  const width = like.width[0] + 2 * median(marks.map(({ fit }) => fit.model.sigma))
  const tips = marks.filter(({ fit, bearing: own }) => Math.abs(turnBetween(own, bearing)) < CENTRAL * halfWidth && [-0.8, -0.4, 0, 0.4, 0.8].every((tau) => widthsAt(raster, fit, tau, width) > BROADER))
  return new Set(tips.length > MOST_TIPS ? [] : tips)
}
