import { refineModels } from '#core/detect/stroke/refine-marks'
import { splitWide } from '#core/detect/stroke/split-wide'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { strokeBetween } from '#core/detect/stroke/stroke-model'
import { expect, it } from 'vitest'
import { drawRaster } from '../draw-raster.ts'

// Blur and width of a thin stroke trade places, its ink does not: of a pair seen as one, one half often comes out thin and dark.
it.each([
  [3.4, 1.2],
  [3.6, 1.2],
])('splits two strokes %f px apart of which one, with as much ink, is %f px broad, not 2.4 (simulated)', (apart, width) => {
  const [near, far] = [40, 40 + apart]
  const raster = drawRaster([120, 80], [{ from: [30, near], to: [90, near], width: 2.4, dark: 80 }, { from: [30, far], to: [90, far], width, dark: (2.4 * 80) / width }], { blur: 1, noise: 3, seed: 1 })
  const fits = refineModels(raster, [strokeBetween([30, 41.5], [90, 41.5], { halfWidth: 2.2, sigma: 1, amplitudes: [60, 60] })]) as StrokeFit[]
  const places = splitWide(raster, fits, { halfWidth: 1.2, ink: 96, gapPx: 30 }).flatMap(({ parts }) => parts).map(({ model }) => model.middle[1] + model.bow[0])
  expect(places).toHaveLength(2)
  // A tenth of a stroke's width: each takes its ink from what the other leaves, in one turn only.
  expect(Math.abs(Math.min(...places) - near)).toBeLessThan(0.24)
  expect(Math.abs(Math.max(...places) - far)).toBeLessThan(0.24)
})

// What grain leaves behind hides how much better two lines fit a pair than one.
it.each([
  ['two strokes that touch, far too wide for the pen, and says so', 3.8, { parts: 2, byWidth: true }],
  ['one stroke half as wide again as one', 0.9, { parts: 1, byWidth: false }],
])('reads %s, where grain hides which fits better (simulated)', (_, apart, read) => {
  const strokes = [40, 40 + apart].map((y) => ({ from: [30, y], to: [90, y], width: 2.4, dark: 80 }) as const)
  const raster = drawRaster([120, 80], strokes, { blur: 1, noise: 30, seed: 5 })
  const middle = 40 + apart / 2
  const fits = refineModels(raster, [strokeBetween([30, middle], [90, middle], { halfWidth: 1.2 + apart / 2, sigma: 1, amplitudes: [60, 60] })]) as StrokeFit[]
  const [reading] = splitWide(raster, fits, { halfWidth: 1.2, ink: 96, gapPx: 30 })
  expect({ parts: reading?.parts.length, byWidth: reading?.byWidth }).toEqual(read)
})
