import type { Raster } from '#core/detect/raster'
import { darkeningAt, inkOf, type StrokeInk } from './stroke-ink.ts'
import type { StrokeModel } from './stroke-model.ts'

/** Pixels of the photo around a stroke, in the stroke's own frame. */
export interface StrokePixels {
  readonly count: number
  readonly t: Float64Array
  readonly s: Float64Array
  /** Grey, with the darkening of neighbouring strokes added back. */
  readonly grey: Float64Array
}

export interface GatheredPixels extends StrokePixels {
  /** The most that neighbours darkened any of them, grey levels. */
  readonly shared: number
}

/** More pixels than this bring nothing: rows are thinned. */
const MOST = 12_000

/** The strip round a stroke: its middle, its direction and how far it reaches along and aside, px. */
interface Strip {
  readonly x: number
  readonly y: number
  readonly ux: number
  readonly uy: number
  readonly reachT: number
  readonly reachS: number
}

interface Growing {
  count: number
  shared: number
  readonly t: Float64Array
  readonly s: Float64Array
  readonly grey: Float64Array
}

/** Where a row `dy` from the middle enters the strip |t| ≤ reachT, |s| ≤ reachS, px from the middle; it leaves it, by symmetry, at −entry(−dy). */
const entry = ({ ux, uy, reachT, reachS }: Strip, dy: number): number => {
  const end = Math.abs(ux) > 1e-6 ? -reachT / Math.abs(ux) - (dy * uy) / ux : Number.NEGATIVE_INFINITY
  const side = Math.abs(uy) > 1e-6 ? (dy * ux) / uy - reachS / Math.abs(uy) : Number.NEGATIVE_INFINITY
  return Math.max(end, side)
}

/** Appends every `step`-th pixel of a row that lies in the strip. */
const gatherRow = ({ width, grey }: Raster, strip: Strip, [row, step]: readonly [number, number], inks: readonly StrokeInk[], into: Growing): void => {
  const { x: middle, ux, uy, reachT, reachS } = strip
  const dy = row - strip.y
  // Only where the row enters and leaves the strip, so that long slanting strokes cost no more than straight ones.
  const from = Math.max(0, Math.ceil(entry(strip, dy) + middle - 1e-9))
  const to = Math.min(width - 1, Math.floor(-entry(strip, -dy) + middle + 1e-9))
  for (let x = Math.ceil(from / step) * step; x <= to && into.count < into.t.length; x += step) {
    const dx = x - middle
    const along = dx * ux + dy * uy
    const aside = dy * ux - dx * uy
    if (Math.abs(along) > reachT || Math.abs(aside) > reachS) continue
    let ink = 0
    for (let k = 0; k < inks.length; k++) ink += darkeningAt(inks[k] as StrokeInk, x, row)
    if (ink > into.shared) into.shared = ink
    const n = into.count++
    into.t[n] = along
    into.s[n] = aside
    into.grey[n] = (grey[row * width + x] as number) + ink
  }
}

/**
 * Every pixel whose centre lies within |t| ≤ reachT, |s| ≤ reachS of the stroke's middle line.
 * @param neighbours other strokes whose ink is taken out
 * @param most about how many pixels to keep; more are thinned evenly
 */
export const gatherPixels = (
  raster: Raster,
  { middle: [x, y], along: [ux, uy] }: Pick<StrokeModel, 'middle' | 'along'>,
  [reachT, reachS]: readonly [number, number],
  { neighbours, most = MOST }: { readonly neighbours: readonly StrokeModel[]; readonly most?: number | undefined },
): GatheredPixels => {
  const strip = { x, y, ux, uy, reachT, reachS }
  const [high, wide] = [Math.abs(uy) * reachT + Math.abs(ux) * reachS, Math.abs(ux) * reachT + Math.abs(uy) * reachS]
  const [top, bottom] = [Math.max(0, Math.ceil(y - high)), Math.min(raster.height - 1, Math.floor(y + high))]
  const expected = 4 * reachT * reachS
  const thin = Math.max(1, Math.round(expected / most))
  const capacity = Math.max(0, Math.ceil((expected + 4 * (reachT + reachS) + 16) / thin + 2 * (wide + high)) + 64)
  const found = { count: 0, shared: 0, t: new Float64Array(capacity), s: new Float64Array(capacity), grey: new Float64Array(capacity) }
  const inks = neighbours.map(inkOf)
  const [rowStep, columnStep] = Math.abs(uy) >= Math.abs(ux) ? [thin, 1] : [1, thin]
  for (let row = Math.ceil(top / rowStep) * rowStep; row <= bottom; row += rowStep) gatherRow(raster, strip, [row, columnStep], inks, found)
  return found
}
