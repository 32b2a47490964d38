import { pullingNoise } from './pulling-noise.ts'
import { readInk } from './stroke-ink.ts'
import type { StrokeModel } from './stroke-model.ts'
import type { StrokePixels } from './stroke-pixels.ts'

export interface StrokeFit {
  readonly model: StrokeModel
  /** rms of what the model leaves, grey levels, outliers down-weighted. */
  readonly noise: number
  /** Standard uncertainty of the mean sideways position, px, from white noise of that size. */
  readonly uOffset: number
  /** Share of the weight lost to pixels that do not fit the model (something else lies there). */
  readonly outliers: number
  /** Variance of the noise that pulls the stroke aside, over that of white noise of the fit's size; see pulling-noise.ts. */
  readonly clumping: number
  /** Brightness of the paper beside the stroke, grey levels. */
  readonly paper: number
}

/** How a fit is to be made. */
export interface FitCare {
  /** True when the start is already a fit, so that few rounds do. */
  readonly settled: boolean
  /** A line that would move less than this in a further round, px, has settled. */
  readonly within: number
  /** Whether it is asked how the noise clumps; 1 is given where it is not. */
  readonly clumps: boolean
}

/**
 * Least-squares fit of a stroke model to the pixels around it: position, lean, bow, width, blur, local brightness and the
 * amplitude at each knot together, by Gauss–Newton steps with Tukey's weights (kernels/assembly/fit.ts). Under white noise it comes
 * close to the Cramér–Rao bound for the position.
 * @param around gathered about the start
 * @param reachS the half width over which they were gathered
 * @returns null when there are too few pixels or the system is singular
 */
export const fitStroke = (around: StrokePixels, start: StrokeModel, reachS: number, { settled, within, clumps }: FitCare): StrokeFit | null => {
  const { program, f64, own, pixels, room, count, sorted, columns, found } = around
  if (!program.fitStroke(own, pixels, room, count, reachS, sorted, columns, settled, within, found)) return null
  const [noise, uOffset, outliers, paper, cut] = f64.subarray(found / 8, found / 8 + 5) as unknown as readonly [number, number, number, number, number]
  const model = readInk(f64, own, start)
  return { model, noise, uOffset, outliers, clumping: clumps ? pullingNoise(around, model.halfLength, cut) / Math.max(noise ** 2, 1e-12) : 1, paper }
}
