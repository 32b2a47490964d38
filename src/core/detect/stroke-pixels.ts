import type { Raster } from './raster.ts'
import { darkeningAt, type StrokeModel } from './stroke-model.ts'

/** Pixels of the photo around a stroke, in the stroke's own frame. */
export interface StrokePixels {
  readonly count: number
  readonly t: Float64Array
  readonly s: Float64Array
  /** Grey, with the darkening of neighbouring strokes added back. */
  readonly grey: Float64Array
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
): StrokePixels => {
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
  let count = 0
  const byRows = Math.abs(uy) >= Math.abs(ux)
  for (let y = y0; y <= y1; y++) {
    if (byRows && y % thin !== 0) continue
    const dy = y - middle[1]
    // Where the row enters and leaves the band, so that long slanting strokes cost no more than straight ones.
    const [from, to] = rowSpan([dy, ux, uy], [reachT, reachS], middle[0], [x0, x1])
    for (let x = from; x <= to && count < t.length; x++) {
      if (!byRows && x % thin !== 0) continue
      const dx = x - middle[0]
      const along_ = dx * ux + dy * uy
      const aside = dy * ux - dx * uy
      if (Math.abs(along_) > reachT || Math.abs(aside) > reachS) continue
      let value = raster.grey[y * raster.width + x] as number
      for (let k = 0; k < neighbours.length; k++) value += darkeningAt(neighbours[k] as StrokeModel, x, y)
      t[count] = along_
      s[count] = aside
      grey[count++] = value
    }
  }
  return { count, t, s, grey }
}

const rowSpan = (
  [dy, ux, uy]: readonly [number, number, number],
  [reachT, reachS]: readonly [number, number],
  mx: number,
  [x0, x1]: readonly [number, number],
): readonly [number, number] => {
  let low = x0 - mx
  let high = x1 - mx
  if (Math.abs(ux) > 1e-6) {
    const a = (-reachT - dy * uy) / ux
    const b = (reachT - dy * uy) / ux
    low = Math.max(low, Math.min(a, b))
    high = Math.min(high, Math.max(a, b))
  }
  if (Math.abs(uy) > 1e-6) {
    const a = (dy * ux - reachS) / uy
    const b = (dy * ux + reachS) / uy
    low = Math.max(low, Math.min(a, b))
    high = Math.min(high, Math.max(a, b))
  }
  return [Math.max(x0, Math.ceil(low + mx - 1e-9)), Math.min(x1, Math.floor(high + mx + 1e-9))]
}
