import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import { centreLineAt, meanAmplitude, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { median } from '#core/numeric/median'

const PLACES = 9
/** The paper's end goes on beyond a stroke taken from it; places along it are looked at up to this share of its half length. */
const BEYOND = 1.5
/** Distances from the stroke's side at which the paper is looked at, in px beyond its blur: near, as tape may begin close to a mark. */
const DISTANCES = [1, 2] as const
/** One side darker than the other by this share of the stroke's own darkness is no bare paper. */
const STEP = 0.4

/** Usual grey along one side of a stroke. */
const greyBeside = (raster: Raster, model: StrokeModel, side: 1 | -1): number => {
  const [ux, uy] = model.along
  const near = model.halfWidth + 2 * model.sigma
  const seen = Array.from({ length: PLACES }, (_, k) => centreLineAt(model, BEYOND * ((2 * k) / (PLACES - 1) - 1))).flatMap(([x, y]) =>
    DISTANCES.map((d) => greyAt(raster, [x - side * (near + d) * uy, y + side * (near + d) * ux])).filter((v) => !Number.isNaN(v)),
  )
  return seen.length === 0 ? Number.NaN : median(seen)
}

/**
 * Is a stroke the place where the paper ends, its rim or the shadow beside it? Then what lies beyond is darker than the paper.
 * For strokes with no neighbour on that side.
 * @param towards a place on the row, px: the paper is on its side
 */
export const isPaperEnd = (raster: Raster, { model }: StrokeFit, towards: readonly [number, number]): boolean => {
  const [ux, uy] = model.along
  const side = -(towards[0] - model.middle[0]) * uy + (towards[1] - model.middle[1]) * ux > 0 ? 1 : -1
  return greyBeside(raster, model, side) - greyBeside(raster, model, side === 1 ? -1 : 1) > STEP * meanAmplitude(model)
}
