import { medianOrZero, robustSpread } from '#core/numeric/median'
import { darkerThanSides, goesOn, ON } from '#core/detect/stroke/around-stroke'
import { peakDarkness, type StrokeModel } from '#core/detect/stroke/stroke-model'
import type { Left } from './left-round.ts'
import { markAt, scoreOf, topsOf } from './second-look.ts'

/** What may be a mark, and how dark it is as a share of the usual one. */
export interface Hinted {
  readonly model: StrokeModel
  readonly share: number
}

/** It stands out by so many spreads of what is left on the paper, and is at least so dark as a share of the usual mark. */
const STANDS_OUT = 4
const FAINTEST = 0.2
/** It is darker than the paper on both its sides by so much of what is left there: less along an edge, more where that is the rest of a mark that was read. */
const AS_DARK = [0.2, 2] as const

/** What is left in the end and may be a mark all the same: no edge, and no piece of a line that goes on. */
export const leftOver = (left: Left): Hinted[] => {
  const score = scoreOf(left, false)
  const least = Math.max(FAINTEST, STANDS_OUT * robustSpread(score, medianOrZero(score)))
  return topsOf(score, left, (i) => (score[i] as number) >= least).flatMap((i) => {
    const [share, model] = [score[i] as number, markAt(left, i, score.length)]
    const dark = darkerThanSides(left.raster, model) / (share * peakDarkness(model))
    return dark > AS_DARK[0] && dark < AS_DARK[1] && goesOn(left.raster, model) < ON ? [{ model, share }] : []
  })
}
