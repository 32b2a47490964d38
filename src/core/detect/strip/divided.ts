import { greyAt } from '#core/detect/grey-at'
import { toPhoto, toPlane } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { median } from '#core/numeric/median'
import { mean } from '#core/numeric/moments'
import { fitRuler, type RulerFit } from './ruler-map.ts'

/** Into how many parts the steps between longer ticks may be divided by finer ones. */
const PARTS = [10, 8, 5, 4, 2] as const
/** The finer ticks begin with the longer ones, at this share of these they are there, and at least so dark as a share. */
const LOW = 0.25
const AS_DARK = 0.3

/** The same ticks counted in the finer steps that the photo shows between them, where there are such: of a ruler's ticks the short ones may be too fine to be seen one by one. */
export const divided = (raster: Raster, fit: RulerFit): RulerFit => {
  const { map, ticks } = fit
  const [foot, tip] = [median(ticks.map((t) => toPlane(map, t.foot)[1])), median(ticks.map((t) => toPlane(map, t.tip)[1]))]
  const y = foot + LOW * (tip - foot)
  const dip = (at: number, half: number): number => mean(ticks.map(({ index }) => {
    const grey = (x: number): number => greyAt(raster, toPhoto(map, [index + x, y]))
    const value = (grey(at - half) + grey(at + half)) / 2 - grey(at)
    return Number.isFinite(value) ? value : 0
  }))
  const parts = PARTS.find((n) => Array.from({ length: n - 1 }, (_, k) => (k + 1) / n).every((at) => dip(at, 0.5 / n) > AS_DARK * dip(0, 0.5 / n)))
  return parts === undefined ? fit : (fitRuler(ticks.map((t) => ({ ...t, index: t.index * parts, stepPx: t.stepPx / parts })), raster) ?? fit)
}
