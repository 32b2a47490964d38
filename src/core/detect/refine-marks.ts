import { fitStroke, type StrokeFit } from './fit-stroke.ts'
import type { Candidate } from './candidate.ts'
import type { Raster } from './raster.ts'
import { gatherPixels } from './stroke-pixels.ts'
import type { StrokeModel } from './stroke-model.ts'

const SWEEPS = 2
const KNOT_PX = 14

/** Blur of an in-focus photo, px: what the width cannot explain. */
const blurGuess = (widthPx: number): number => Math.max(0.7, Math.min(1.2, 0.3 * widthPx))

/** A first model from a candidate; amplitudes from its depth at the paper's brightness there. */
export const modelFrom = (candidate: Candidate, raster: Raster): StrokeModel => {
  const [x, y] = candidate.middle
  const at = Math.max(0, Math.min(raster.height - 1, Math.round(y))) * raster.width + Math.max(0, Math.min(raster.width - 1, Math.round(x)))
  const dark = raster.grey[at] as number
  const knots = Math.max(1, Math.min(8, Math.round(candidate.lengthPx / KNOT_PX)))
  const sigma = blurGuess(candidate.widthPx)
  return {
    middle: candidate.middle,
    along: candidate.along,
    halfLength: candidate.lengthPx / 2,
    bow: [0, 0, 0],
    halfWidth: Math.max(0.3, Math.sqrt(Math.max(0.2, candidate.widthPx ** 2 - 6 * sigma ** 2)) / 2),
    sigma,
    amplitudes: new Array<number>(knots + 1).fill(Math.max(4, dark * (Math.exp(candidate.depth) - 1))),
  }
}

const closest = (a: StrokeModel, b: StrokeModel): number => {
  const dx = b.middle[0] - a.middle[0]
  const dy = b.middle[1] - a.middle[1]
  return Math.abs(dx * a.along[0] + dy * a.along[1]) < a.halfLength + b.halfLength + 6 ? Math.abs(dx * a.along[1] - dy * a.along[0]) : Number.POSITIVE_INFINITY
}

/**
 * Fits every stroke to the full-resolution photo, the ink of its neighbours taken out, in two sweeps.
 * @returns one fit per candidate; null where the pixels did not allow one
 */
export const refineMarks = (raster: Raster, candidates: readonly Candidate[]): (StrokeFit | null)[] => {
  const models = candidates.map((c) => modelFrom(c, raster))
  const fits: (StrokeFit | null)[] = candidates.map(() => null)
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    models.forEach((_, i) => {
      const own = models[i] as StrokeModel
      const reachS = Math.min(own.halfWidth + 3 * own.sigma + 4, 60)
      const neighbours = models.filter((m, j) => j !== i && closest(own, m) < reachS + m.halfWidth + 8 && (sweep > 0 || fits[j] !== null))
      if (sweep > 0 && neighbours.length === 0) return
      const pixels = gatherPixels(raster, own, [own.halfLength, reachS], neighbours)
      const fit = fitStroke(pixels, own, reachS, sweep > 0 && fits[i] !== null)
      if (fit === null) return
      fits[i] = fit
      models[i] = fit.model
    })
  }
  return fits
}
