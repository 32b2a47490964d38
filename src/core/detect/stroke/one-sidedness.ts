import type { Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import { centreLineAt, meanAmplitude, type StrokeModel } from './stroke-model.ts'

const PLACES = 9

/** How much darker one side of a stroke is than the other, over the stroke's own darkness: near 0 on paper, near 1 and above at an edge. */
export const oneSidedness = (raster: Raster, model: StrokeModel): number => {
  const [ux, uy] = model.along
  const aside = model.halfWidth + 2.5 * model.sigma + 1
  let sum = 0
  let seen = 0
  for (let k = 0; k < PLACES; k++) {
    const [x, y] = centreLineAt(model, (1.8 * k) / (PLACES - 1) - 0.9)
    const difference = greyAt(raster, [x - aside * uy, y + aside * ux]) - greyAt(raster, [x + aside * uy, y - aside * ux])
    if (Number.isNaN(difference)) continue
    sum += difference
    seen++
  }
  return seen === 0 ? 0 : Math.abs(sum / seen) / Math.max(1, meanAmplitude(model))
}
