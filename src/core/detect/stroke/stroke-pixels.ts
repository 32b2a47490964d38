import type { Kernels } from '#core/detect/kernels/kernels'
import { photoPlace, workspace } from '#core/detect/kernels/workspace'
import type { Raster } from '#core/detect/raster'
import { INK_BYTES, writeInks } from './stroke-ink.ts'
import type { StrokeModel } from './stroke-model.ts'

/** Pixels of the photo around a stroke, in the stroke's own frame, in the compiled loops' memory until others are gathered. Places in bytes. */
export interface StrokePixels {
  readonly count: number
  /** The most that neighbours darkened any of them, grey levels. */
  readonly shared: number
  /** Columns along, aside and grey, with the darkening of neighbours added back, of `room` numbers each. */
  readonly pixels: number
  readonly room: number
  /** The stroke's own ink. */
  readonly own: number
  /** Room for the pixels sorted, with a column for what a model leaves of them, and for their derivatives. */
  readonly sorted: number
  readonly columns: number
  /** Room for a few numbers. */
  readonly found: number
  /** Room for five rows of sums, slice by slice along the stroke. */
  readonly slices: number
  readonly program: Kernels
  readonly f64: Float64Array
}

/** More pixels than this bring nothing: rows are thinned. */
const MOST = 12_000
/** A stroke is cut into slices of at least this length, px. */
export const LEAST_SLICE = 1.5
/** A pixel touches eight parameters and two amplitudes, and has a residual. */
const COLUMNS = 11

/**
 * Every pixel whose centre lies within |t| ≤ reachT, |s| ≤ reachS of the stroke's middle line.
 * @param neighbours other strokes whose ink is taken out
 * @param most about how many pixels to keep; more are thinned evenly
 */
export const gatherPixels = (
  raster: Raster,
  stroke: StrokeModel,
  [reachT, reachS]: readonly [number, number],
  { neighbours, most = MOST }: { readonly neighbours: readonly StrokeModel[]; readonly most?: number | undefined },
): StrokePixels => {
  const [ux, uy] = stroke.along
  const expected = 4 * reachT * reachS
  const thin = Math.max(1, Math.round(expected / most))
  const [high, wide] = [Math.abs(uy) * reachT + Math.abs(ux) * reachS, Math.abs(ux) * reachT + Math.abs(uy) * reachS]
  const room = 2 * Math.ceil(((expected + 4 * (reachT + reachS) + 16) / thin + 2 * (wide + high)) / 2) + 64
  const rows = 8 * (Math.ceil((2 * reachT) / LEAST_SLICE) + 4)
  const photo = photoPlace(raster)
  const { program, f64, at: [strip, own, pixels, sorted, columns, found, slices] } = workspace(8 * 7, INK_BYTES * (1 + neighbours.length), 8 * 3 * room, 8 * 4 * room, 8 * COLUMNS * room, 8 * 5, 5 * rows)
  f64.set([...stroke.middle, ux, uy, reachT, reachS], strip / 8)
  writeInks(f64, own, [stroke, ...neighbours])
  const [rowStep, columnStep] = Math.abs(uy) >= Math.abs(ux) ? [thin, 1] : [1, thin]
  const count = program.gather(photo, raster.width, raster.height, strip, rowStep, columnStep, own + INK_BYTES, neighbours.length, pixels, room)
  return { count, shared: f64[strip / 8 + 6] as number, pixels, room, own, sorted, columns, found, slices, program, f64 }
}
