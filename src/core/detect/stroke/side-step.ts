import type { Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import { centreLineAt, meanAmplitude, type StrokeModel } from './stroke-model.ts'

const PLACES = 9

/**
 * How much brighter a stroke's side of positive `s` is than the other, over the stroke's own darkness: near 0 on paper, near ±1 and beyond at an edge.
 * @param reach how far along it is looked, half lengths of the stroke
 */
export const sideStep = (raster: Raster, model: StrokeModel, reach = 0.9): number => {
  const [ux, uy] = model.along
  const aside = model.halfWidth + 2.5 * model.sigma + 1
  const steps = Array.from({ length: PLACES }, (_, k) => centreLineAt(model, reach * ((2 * k) / (PLACES - 1) - 1)))
    .map(([x, y]) => greyAt(raster, [x - aside * uy, y + aside * ux]) - greyAt(raster, [x + aside * uy, y - aside * ux]))
    .filter((step) => !Number.isNaN(step))
  return steps.length === 0 ? 0 : steps.reduce((sum, step) => sum + step, 0) / steps.length / Math.max(1, meanAmplitude(model))
}
