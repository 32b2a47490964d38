import type { Candidate } from './candidate.ts'
import { fitStroke, type StrokeFit } from './fit-stroke.ts'
import type { Raster } from './raster.ts'
import { scanEnds } from './scan-ends.ts'
import { gatherPixels } from './stroke-pixels.ts'
import { meanAmplitude, type StrokeModel } from './stroke-model.ts'

const KNOT_PX = 14

/** Blur of an in-focus photo, px: what the width cannot explain. */
const blurGuess = (widthPx: number): number => Math.max(0.7, Math.min(1.2, 0.3 * widthPx))

const knotsFor = (lengthPx: number): number => Math.max(1, Math.min(8, Math.round(lengthPx / KNOT_PX))) + 1

/** A first model from a candidate; amplitudes from its depth at the paper's brightness there. */
export const modelFrom = (candidate: Candidate, raster: Raster): StrokeModel => {
  const [x, y] = candidate.middle
  const at = Math.max(0, Math.min(raster.height - 1, Math.round(y))) * raster.width + Math.max(0, Math.min(raster.width - 1, Math.round(x)))
  const dark = raster.grey[at] as number
  const sigma = blurGuess(candidate.widthPx)
  return {
    middle: candidate.middle,
    along: candidate.along,
    halfLength: candidate.lengthPx / 2,
    bow: [0, 0, 0],
    halfWidth: Math.max(0.3, Math.sqrt(Math.max(0.2, candidate.widthPx ** 2 - 6 * sigma ** 2)) / 2),
    sigma,
    amplitudes: new Array<number>(knotsFor(candidate.lengthPx)).fill(Math.max(4, dark * (Math.exp(candidate.depth) - 1))),
  }
}

/** Distance of b's middle from a's line where they lie beside each other; infinite where they do not. */
const apart = (a: StrokeModel, b: StrokeModel): number => {
  const dx = b.middle[0] - a.middle[0]
  const dy = b.middle[1] - a.middle[1]
  const along = Math.abs(dx * a.along[0] + dy * a.along[1])
  return along < a.halfLength + b.halfLength + 6 ? Math.abs(dx * a.along[1] - dy * a.along[0]) : Number.POSITIVE_INFINITY
}

const reachOf = (model: StrokeModel): number => Math.min(model.halfWidth + 3 * model.sigma + 3, 60)

const neighboursOf = (own: StrokeModel, models: readonly StrokeModel[]): StrokeModel[] => {
  const reach = reachOf(own)
  return models.filter((m) => m !== own && apart(own, m) < reach + m.halfWidth + 3 * m.sigma + 0.2 * m.halfLength)
}

const withKnots = (model: StrokeModel): StrokeModel => {
  const knots = knotsFor(2 * model.halfLength)
  const usual = meanAmplitude(model)
  return { ...model, amplitudes: new Array<number>(knots).fill(usual) }
}

/** Pixels enough to find a line to a tenth of a px before it is fitted in earnest, and a step that is small beside that. */
const FEW = 700
const ROUGHLY = { settled: false, within: 5e-3 } as const
const IN_EARNEST = { settled: true, within: 2e-3 } as const

const refit = (raster: Raster, own: StrokeModel, neighbours: readonly StrokeModel[], few = false): StrokeFit | null => {
  const reachS = reachOf(own)
  return fitStroke(gatherPixels(raster, own, [own.halfLength, reachS], { neighbours, most: few ? FEW : undefined }), own, reachS, few ? ROUGHLY : IN_EARNEST)
}

const rescan = (raster: Raster, own: StrokeModel, neighbours: readonly StrokeModel[]): StrokeModel => {
  const reachT = 1.25 * own.halfLength + 6
  const reachS = own.halfWidth + 3 * own.sigma + 2
  return withKnots(scanEnds(gatherPixels(raster, own, [reachT, reachS], { neighbours }), own, reachT))
}

/**
 * Fits strokes to the full-resolution photo: a rough fit each, their ends found, then a full fit with the ink of the
 * neighbours taken out, repeated once where there are neighbours.
 * @param known fits that are already settled: they keep still unless a start lies beside them
 * @returns one fit per known and start, in order; null where the pixels did not allow one
 */
export const refineModels = (raster: Raster, starts: readonly StrokeModel[], known: readonly StrokeFit[] = []): (StrokeFit | null)[] => {
  const models = [...known.map((k) => k.model), ...starts]
  const fits: (StrokeFit | null)[] = [...known, ...starts.map(() => null)]
  const moved = models.map((m, i) => i >= known.length || starts.some((s) => apart(m, s) < reachOf(m) + s.halfWidth + 3 * s.sigma))
  const sweep = (work: (own: StrokeModel, neighbours: readonly StrokeModel[], i: number) => StrokeFit | null): void => {
    models.forEach((own, i) => {
      if (!moved[i]) return
      const fit = work(own, neighboursOf(own, models), i)
      if (fit === null) return
      fits[i] = fit
      models[i] = fit.model
    })
  }
  sweep((own, neighbours, i) => (i < known.length ? null : refit(raster, own, neighbours, true)))
  sweep((own, neighbours, i) => (fits[i] === null ? null : refit(raster, rescan(raster, own, neighbours), neighbours)))
  sweep((own, neighbours, i) => (fits[i] === null || neighbours.length === 0 ? null : refit(raster, own, neighbours)))
  return fits
}

/** The same for candidates, each given a first model. */
export const refineMarks = (raster: Raster, candidates: readonly Candidate[]): (StrokeFit | null)[] =>
  refineModels(raster, candidates.map((c) => modelFrom(c, raster)))
