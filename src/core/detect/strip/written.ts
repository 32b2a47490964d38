import { greyAt } from '#core/detect/grey-at'
import type { Point, Raster } from '#core/detect/raster'
import { centreLineAt, peakDarkness, seenWidth, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { medianOrZero, quantile } from '#core/numeric/median'
import type { StripMark } from './strip-marks.ts'

/** Heights at which a row is crossed, as parts of a stroke's half length: near its ends serifs and lines along the row begin. */
const HEIGHTS = [-0.7, -0.5, -0.3, -0.1, 0.1, 0.3, 0.5, 0.7]
/** Darker than paper by this share of what a usual mark's middle is seen to be is ink; of what is met between two marks at least a quarter is paper. */
const INK = 0.45
const PAPER = 0.75
/** Share of a row's ink that stands between its strokes: pen marks beyond a ruler’s ticks leave none, arms and bowls of letters 2 to 43 % in 27 rows. */
const MOST_BETWEEN = 0.02

/** Ink met on the way from a point of one stroke to one of the next, both strokes' own left out, px. */
const inkBetween = (raster: Raster, [a, b]: readonly [StrokeModel, StrokeModel], [p, q]: readonly [Point, Point], depth: number): number => {
  const gap = Math.hypot(q[0] - p[0], q[1] - p[1])
  const count = Math.ceil(gap)
  const greys = Array.from({ length: count + 1 }, (_, k) => greyAt(raster, [p[0] + ((q[0] - p[0]) * k) / count, p[1] + ((q[1] - p[1]) * k) / count]))
  const least = quantile(greys, PAPER) - INK * depth
  const reach = ({ halfWidth, sigma }: StrokeModel): number => halfWidth + 2 * sigma + 1
  const [from, to] = [(reach(a) / gap) * count, (1 - reach(b) / gap) * count]
  return greys.filter((grey, k) => k > from && k < to && grey < least).length
}

/** Is a row of strokes written or printed text? Then there is ink between them, at most heights: of rules and serifs there is some at few. */
export const isWritten = (raster: Raster, marks: readonly StripMark[]): boolean => {
  const models = marks.map((m) => m.fit.model)
  const [ux, uy] = models[0]?.along ?? [0, 0]
  const depth = medianOrZero(models.map(peakDarkness))
  const at = (model: StrokeModel, height: number): Point => centreLineAt(model, Math.sign(model.along[0] * ux + model.along[1] * uy) * height)
  const shares = HEIGHTS.map((height) => {
    let [own, between] = [0, 0]
    for (let i = 1; i < models.length; i++) {
      const [a, b] = [models[i - 1] as StrokeModel, models[i] as StrokeModel]
      own += seenWidth(a)
      between += inkBetween(raster, [a, b], [at(a, height), at(b, height)], depth)
    }
    return between / Math.max(1, own + between)
  })
  return medianOrZero(shares) > MOST_BETWEEN
}
