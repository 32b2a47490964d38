import { type FittedMark, fittedMark } from '#core/detect/centre/seen-from-centre'
import { hasTooMuchInk, type Likeness, likenessOf, objectionTo } from './judge-marks.ts'
import { toPhoto } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'
import { inkOf } from './second-kind.ts'
import type { View } from './left-round.ts'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { refineBetween } from '#core/detect/stroke/refine-marks'
import { centreLineAt, endAwayFrom, meanAmplitude, strokeBetween, type StrokeModel } from '#core/detect/stroke/stroke-model'

/** What lies over the paper reaches out from the shaft: shares of a stroke from its inner end on that it may cover. */
const COVERED = [0, 0.25, 0.5]
/** The rest is a mark's when it is no broader, no richer in ink and no more uneven than so many times the usual; width in px to spare. */
const BROADER = 1.6
const SPARE_PX = 0.5
const RICHER = 2
const UNEVEN = 3
/** Nor does it point more past the shaft than this, rad, or than so many spreads. */
const ASTRAY = 0.07
const ASTRAY_SPREADS = 3
/** A pointer or a motor's body spoils few marks: where more than this share, and than so many, have too much ink, they run into each other. */
const MOST = 0.1
const FEW = 3

/** A stroke without this share of it from the inner end on. */
const outerPart = (model: StrokeModel, shaft: Point, share: number): StrokeModel => {
  const outward = endAwayFrom(model, shaft)
  const ink = meanAmplitude(model)
  return strokeBetween(centreLineAt(model, outward * (2 * share - 1)), centreLineAt(model, outward), { halfWidth: model.halfWidth, sigma: model.sigma, amplitudes: [ink, ink] })
}

/** Does a stroke look like the marks, and alike from end to end? */
export const isClean = (mark: FittedMark, like: Likeness): boolean =>
  objectionTo(mark, like) === null &&
  Math.abs(mark.lean - like.lean[0]) < Math.max(ASTRAY, ASTRAY_SPREADS * like.lean[1]) &&
  mark.widthPx < BROADER * like.width[0] + SPARE_PX &&
  inkOf(mark) < RICHER * like.contrast[0] &&
  Math.max(...mark.fit.model.amplitudes) < UNEVEN * Math.min(...mark.fit.model.amplitudes)

/**
 * Strokes that run into the pointer or the motor's body are fitted broad and dark, as those are: rather by their outer part, where that looks like the marks.
 * @param starts where strokes were seen, with what they were fitted to when their ends were sought
 * @param known marks that have been fitted
 * @returns the fits in the same order, some of an outer part only
 */
export const besideCover = ({ raster, map }: View, centre: Point, starts: readonly { readonly model: StrokeModel; readonly fit: StrokeFit | null }[], known: readonly StrokeFit[]): (StrokeFit | null)[] => {
  const seenAs = (fit: StrokeFit): FittedMark => fittedMark(fit, map, centre)
  const like = likenessOf(known.map(seenAs))
  const fits = starts.map(({ fit }) => fit)
  const spoilt = new Set(fits.filter((fit) => fit !== null && hasTooMuchInk(seenAs(fit), like)))
  if (spoilt.size === 0 || spoilt.size > Math.max(FEW, MOST * known.length)) return fits
  const clean = [...known, ...fits].flatMap((f) => (f !== null && objectionTo(seenAs(f), like) === null ? [f] : []))
  const shaft = toPhoto(map, centre)
  return starts.map(({ model, fit }) => {
    if (!spoilt.has(fit)) return fit
    for (const share of COVERED) {
      const part = refineBetween(raster, outerPart(model, shaft, share), clean)
      if (part !== null && isClean(seenAs(part), like)) return part
    }
    return fit
  })
}
