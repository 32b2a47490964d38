import { isBareBetween } from './bare-between.ts'
import { medianOrZero } from '#core/numeric/median'
import type { Candidate } from '#core/detect/line/candidate'
import { fitStroke, type StrokeFit } from './fit-stroke.ts'
import type { Raster } from '#core/detect/raster'
import { type Disc, nearDiscs } from '#core/numeric/near-discs'
import { scanEnds } from './scan-ends.ts'
import { gatherPixels, LEAST_SLICE } from './stroke-pixels.ts'
import { amplitudeAt, inkProfile, meanAmplitude, peakDarkness, seenWidth, type StrokeModel } from './stroke-model.ts'

/** Lines are found straight: of a stroke bowed by more than this share of its width, and by more px than the fit of a short one tells, a part may have been found. */
const BOWED = 0.15
const TOLD_PX = 0.5
/** One bowed by more than this share of its length is no hand's straight line. */
const CURVED = 0.05
/** Neighbours' ink beside it, as a share of its own: among strokes nearer than that, one fit goes over into another. */
const ALONE = 0.1
/** Ink of less than this share of a stroke's own somewhere along it: what goes on from there may be something else. */
const GAP = 0.15

/**
 * May a stroke, inked as far as it was looked at, be the part that was found of one that goes on in a bow?
 * @param beside the most ink of neighbours among its pixels, grey levels
 */
export const isPartOfBowed = (model: StrokeModel, beside: number): boolean => {
  const bow = Math.abs(model.bow[2])
  return bow > Math.max(TOLD_PX, BOWED * seenWidth(model)) && 1.5 * bow < CURVED * 2 * model.halfLength && beside < ALONE * meanAmplitude(model)
}

/** Is a stroke inked all along? */
export const isUnbroken = (model: StrokeModel): boolean => model.amplitudes.every((a) => a > GAP * meanAmplitude(model))

const KNOT_PX = 14

/** Blur of an in-focus photo, px: what the width cannot explain. */
const blurGuess = (widthPx: number): number => Math.max(0.7, Math.min(1.2, 0.3 * widthPx))

const knotsFor = (lengthPx: number): number => Math.max(1, Math.min(8, Math.round(lengthPx / KNOT_PX))) + 1

/** A start paler than this share of its ink, paper and ink compared along its whole length, would have the ink itself taken for something else. */
const LEAST_DARK = 0.5

/** How much darker a candidate is than the paper beside it, grey levels, by its middle pixel; of black ink, where that tells nothing, by its whole length. */
const darkening = ({ depth, beside }: Candidate, middle: number): number =>
  Math.max(4, middle * (Math.exp(depth) - 1), LEAST_DARK * Math.exp(beside) * (1 - Math.exp(-depth)))

/** A first model from a candidate, evenly dark. */
export const modelFrom = (candidate: Candidate, raster: Raster): StrokeModel => {
  const [x, y] = candidate.middle
  const at = Math.max(0, Math.min(raster.height - 1, Math.round(y))) * raster.width + Math.max(0, Math.min(raster.width - 1, Math.round(x)))
  const sigma = blurGuess(candidate.widthPx)
  const halfWidth = Math.max(0.3, Math.sqrt(Math.max(0.2, candidate.widthPx ** 2 - 6 * sigma ** 2)) / 2)
  return {
    middle: candidate.middle,
    along: candidate.along,
    halfLength: candidate.lengthPx / 2,
    bow: [0, 0, 0],
    halfWidth,
    sigma,
    amplitudes: new Array<number>(knotsFor(candidate.lengthPx)).fill(darkening(candidate, raster.grey[at] as number) / inkProfile(0, halfWidth, sigma)),
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

/** Farther from its middle than this, px, no place is beside a model, nor its ink among another's pixels. */
const farthestOf = ({ middle: [x, y], halfLength, halfWidth, sigma }: StrokeModel): Disc => [x, y, 1.2 * halfLength + halfWidth + 3 * sigma + 6]

/** For each of some models the others whose ink may lie among its pixels, by their places. */
const neighboursOf = (models: readonly StrokeModel[], some: readonly boolean[]): readonly (readonly number[])[] => {
  const near = nearDiscs(models, farthestOf)
  return models.map((own, i) => {
    if (some[i] !== true) return []
    const reach = reachOf(own)
    return near(farthestOf(own)).filter((j) => {
      const m = models[j] as StrokeModel
      return j !== i && apart(own, m) < reach + m.halfWidth + 3 * m.sigma + 0.2 * m.halfLength
    })
  })
}

/** The model between other ends (from `shift` px on along the old one), its darkness where it was. */
const withKnots = (model: StrokeModel, before: StrokeModel, shift: number): StrokeModel => {
  const last = knotsFor(2 * model.halfLength) - 1
  const tauOf = (k: number): number => (shift + ((2 * k) / last - 1) * model.halfLength) / before.halfLength
  return { ...model, amplitudes: Array.from({ length: last + 1 }, (_, k) => amplitudeAt(before.amplitudes, tauOf(k))) }
}

/** Pixels enough to find a line to a tenth of a px before it is fitted in earnest, and a step that is small beside that. */
const FEW = 400
const ROUGHLY = { settled: false, within: 5e-3, clumps: false } as const
const IN_EARNEST = { settled: true, within: 1e-3, clumps: true } as const

/** Neighbours' ink of less than this, grey levels, is less than rounding. */
const LEAST_INK = 0.25

interface Refined {
  readonly fit: StrokeFit | null
  /** True when ink of neighbours lay among the pixels. */
  readonly shared: boolean
}

const refit = (raster: Raster, own: StrokeModel, neighbours: readonly StrokeModel[], few = false): Refined => {
  const reachS = reachOf(own)
  const pixels = gatherPixels(raster, own, [own.halfLength, reachS], { neighbours, most: few ? FEW : undefined })
  return { fit: fitStroke(pixels, own, reachS, few ? ROUGHLY : IN_EARNEST), shared: pixels.shared > LEAST_INK }
}

/** Looks again so often for the end of a stroke that goes on as far as was looked. */
const FARTHER = 2
/** One that comes out more than so many times as long as most were found has gone over into something else, as the pointer or a fold. */
const LONGER = 2

/**
 * The model between the ends of its ink. A bowed stroke of which a part was found is fitted as far as it was followed, and followed on from there.
 * @param most half length, px, up to which it is
 */
const rescan = (raster: Raster, own: StrokeModel, neighbours: readonly StrokeModel[], most: number, farther = FARTHER): StrokeModel => {
  const reachT = 1.25 * own.halfLength + 6
  const reachS = own.halfWidth + 3 * own.sigma + 2
  const around = gatherPixels(raster, own, [reachT, reachS], { neighbours })
  const cut = scanEnds(around, own, reachT)
  const shift = (cut.middle[0] - own.middle[0]) * own.along[0] + (cut.middle[1] - own.middle[1]) * own.along[1]
  const found = withKnots(cut, own, shift)
  const goesOn = Math.abs(shift) + cut.halfLength >= reachT - Math.max(LEAST_SLICE, own.sigma)
  if (farther === 0 || !goesOn || !isPartOfBowed(found, around.shared)) return found
  const rough = refit(raster, found, neighbours, true).fit?.model
  if (rough === undefined || !isUnbroken(rough)) return found
  const whole = rescan(raster, rough, neighbours, most, farther - 1)
  return whole.halfLength > most ? found : whole
}

/**
 * Fits strokes to the full-resolution photo: a rough fit each, their ends found, then a full fit with the ink of the
 * neighbours taken out, repeated once where there is any.
 * @param known fits that are already settled: they keep still unless a start lies beside them
 * @returns one fit per known and start, in order; null where the pixels did not allow one
 */
export const refineModels = (raster: Raster, starts: readonly StrokeModel[], known: readonly StrokeFit[] = []): (StrokeFit | null)[] => {
  const models = [...known.map((k) => k.model), ...starts]
  const fits: (StrokeFit | null)[] = [...known, ...starts.map(() => null)]
  const nearStarts = nearDiscs(starts, farthestOf)
  const isBeside = (m: StrokeModel, s: StrokeModel): boolean => apart(m, s) < reachOf(m) + s.halfWidth + 3 * s.sigma
  const moved = models.map((m, i) => i >= known.length || nearStarts(farthestOf(m)).some((j) => isBeside(m, starts[j] as StrokeModel)))
  const sweep = (some: readonly boolean[], work: (own: StrokeModel, neighbours: readonly StrokeModel[]) => Refined): readonly boolean[] => {
    const near = neighboursOf(models, some)
    return models.map((own, i) => {
      if (some[i] !== true) return false
      const { fit, shared } = work(own, (near[i] ?? []).map((j) => models[j] as StrokeModel))
      if (fit === null) return shared
      fits[i] = fit
      models[i] = fit.model
      return shared
    })
  }
  sweep(moved.map((_, i) => i >= known.length), (own, neighbours) => refit(raster, own, neighbours, true))
  const most = LONGER * medianOrZero(models.map((m) => m.halfLength))
  const shared = sweep(moved.map((m, i) => m && fits[i] !== null), (own, neighbours) => refit(raster, rescan(raster, own, neighbours, most), neighbours))
  sweep(shared, (own, neighbours) => refit(raster, own, neighbours))
  return fits
}

/** Fits one stroke whose ends are known, beside fits that keep still; null where the pixels do not allow it. */
export const refineBetween = (raster: Raster, start: StrokeModel, known: readonly StrokeFit[]): StrokeFit | null => {
  const models = [start, ...known.map((k) => k.model)]
  const neighbours = (neighboursOf(models, [true])[0] ?? []).map((j) => models[j] as StrokeModel)
  const rough = refit(raster, start, neighbours, true).fit
  return rough === null ? null : refit(raster, rough.model, neighbours).fit
}

/** The rims that sharpening leaves are less bright, by this share, than strokes are dark. */
const PALE = 0.5

/** Fits for candidates, each given a first model, as for models; null, too, where there is no ink: what stood beside it is then fitted without. */
export const refineMarks = (raster: Raster, candidates: readonly Candidate[]): (StrokeFit | null)[] => {
  const fitted = (some: readonly Candidate[]): (StrokeFit | null)[] => refineModels(raster, some.map((c) => modelFrom(c, raster)))
  const fits = fitted(candidates)
  const pale = PALE * medianOrZero(fits.flatMap((f) => (f === null ? [] : [peakDarkness(f.model)])))
  const isDrawn = fits.map((f) => f !== null && !(peakDarkness(f.model) < pale && isBareBetween(raster, f.model)))
  if (fits.every((f, i) => f === null || isDrawn[i])) return fits
  const again = fitted(candidates.filter((_, i) => isDrawn[i]))
  return isDrawn.map((drawn) => (drawn ? (again.shift() ?? null) : null))
}
