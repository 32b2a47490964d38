import type { Point, Raster } from './raster.ts'
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

/**
 * Every pixel whose centre lies within |t| ≤ reachT, |s| ≤ reachS of the stroke's middle line.
 * @param neighbours other strokes whose ink is taken out
 * @param most about how many pixels to keep; more are thinned evenly
 */
export const gatherPixels = (
  raster: Raster,
  { middle, along }: Pick<StrokeModel, 'middle' | 'along'>,
  [reachT, reachS]: readonly [number, number],
  { neighbours, most = MOST }: { readonly neighbours: readonly StrokeModel[]; readonly most?: number | undefined },
): GatheredPixels => {
  const [ux, uy] = along
  const spanX = Math.abs(ux) * reachT + Math.abs(uy) * reachS
  const spanY = Math.abs(uy) * reachT + Math.abs(ux) * reachS
  const x0 = Math.max(0, Math.ceil(middle[0] - spanX))
  const x1 = Math.min(raster.width - 1, Math.floor(middle[0] + spanX))
  const y0 = Math.max(0, Math.ceil(middle[1] - spanY))
  const y1 = Math.min(raster.height - 1, Math.floor(middle[1] + spanY))
  const expected = 4 * reachT * reachS
  const thin = Math.max(1, Math.round(expected / most))
  const capacity = Math.ceil((expected + 4 * (reachT + reachS) + 16) / thin) + x1 - x0 + y1 - y0 + 64
  const t = new Float64Array(Math.max(0, capacity))
  const s = new Float64Array(t.length)
  const grey = new Float64Array(t.length)
  const inks = neighbours.map(inkOf)
  let count = 0
  let shared = 0
  const byRows = Math.abs(uy) >= Math.abs(ux)
  const [rowStep, columnStep] = byRows ? [thin, 1] : [1, thin]
  for (let y = Math.ceil(y0 / rowStep) * rowStep; y <= y1; y += rowStep) {
    const dy = y - middle[1]
    const row = y * raster.width
    // Where the row enters and leaves the band, so that long slanting strokes cost no more than straight ones.
    const from = Math.max(x0, Math.ceil(entry(dy, along, reachT, reachS) + middle[0] - 1e-9))
    const to = Math.min(x1, Math.floor(-entry(-dy, along, reachT, reachS) + middle[0] + 1e-9))
    for (let x = Math.ceil(from / columnStep) * columnStep; x <= to && count < t.length; x += columnStep) {
      const dx = x - middle[0]
      const along_ = dx * ux + dy * uy
      const aside = dy * ux - dx * uy
      if (Math.abs(along_) > reachT || Math.abs(aside) > reachS) continue
      let ink = 0
      for (let k = 0; k < inks.length; k++) ink += darkeningAt(inks[k] as StrokeInk, x, y)
      if (ink > shared) shared = ink
      t[count] = along_
      s[count] = aside
      grey[count++] = (raster.grey[row + x] as number) + ink
    }
  }
  return { count, t, s, grey, shared }
}

/** Where a row `dy` from the middle enters the band |t| ≤ reachT, |s| ≤ reachS, px from the middle; it leaves it, by symmetry, at −entry(−dy). */
const entry = (dy: number, [ux, uy]: Point, reachT: number, reachS: number): number => {
  const end = Math.abs(ux) > 1e-6 ? -reachT / Math.abs(ux) - (dy * uy) / ux : Number.NEGATIVE_INFINITY
  const side = Math.abs(uy) > 1e-6 ? (dy * ux) / uy - reachS / Math.abs(uy) : Number.NEGATIVE_INFINITY
  return Math.max(end, side)
}
