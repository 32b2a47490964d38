import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import type { Raster } from '#core/detect/raster'
import { sideStep } from '#core/detect/stroke/side-step'

/** The paper's end goes on beyond a stroke taken from it; places along it are looked at up to this share of its half length. */
const BEYOND = 1.5
/** One side darker than the other by this share of the stroke's own darkness is no bare paper. */
const STEP = 0.4

/**
 * Is a stroke the place where the paper ends, its rim or the shadow beside it? Then what lies beyond is darker than the paper.
 * For strokes with no neighbour on that side.
 * @param towards a place on the row, px: the paper is on its side
 */
export const isPaperEnd = (raster: Raster, { model }: StrokeFit, towards: readonly [number, number]): boolean => {
  const [ux, uy] = model.along
  const side = -(towards[0] - model.middle[0]) * uy + (towards[1] - model.middle[1]) * ux > 0 ? 1 : -1
  return side * sideStep(raster, model, BEYOND) > STEP
}
