import { type Disc, nearDiscs } from '#core/numeric/near-discs'
import { weightedQuantile } from '#core/numeric/weighted-quantile'
import { type Candidate, measureCandidates } from './candidate.ts'
import { joinPieces } from './join-pieces.ts'
import { type LookBands, lookBands, nearLines, spanOf } from './look-bands.ts'
import { boxSums, doubled, logOf, logPlane, type Plane, smoothPlane, toFullResolution, workingFactor } from '#core/detect/plane'
import type { Point, Raster } from '#core/detect/raster'
import { ridgeLines, ridgeNoise } from './ridge.ts'
import { straightPieces } from './straight-pieces.ts'

const SIGMA = 1.3
const LEAST_POINTS = 6
/** A line less than this much darker than both its sides (ln) is not ink. */
const LEAST_DEPTH = 0.025
const MOST_STEP = 1.2

type Where = (px: Point) => boolean

const anywhere: Where = () => true

/** Noise of the paper: all of it is looked at as well, since where a person left out the rest the marks' ink may leave no paper bare. */
const noiseOf = (smooth: Plane, looks: readonly LookBands[]): number => Math.min(...looks.map((look) => ridgeNoise(smooth, look)))

/** @param near lines that were found already: others are looked for only about these */
const candidatesOf = (plane: Plane, { usable = anywhere, paper }: Look, near: readonly Candidate[] | null = null): Candidate[] => {
  const all = lookBands(plane, usable)
  const onPaper = paper === undefined ? all : lookBands(plane, paper)
  const smooth = smoothPlane(plane, SIGMA, (rows) => spanOf(onPaper, rows, plane.width))
  const noise = noiseOf(smooth, paper === undefined ? [all] : [all, onPaper])
  const look = near === null ? all : nearLines(all, plane, near)
  const { points, chains } = ridgeLines(smooth, look, { least: Math.max(2 * noise, 0.003), seed: Math.max(4 * noise, 0.006), leastPoints: LEAST_POINTS })
  const pieces = straightPieces(points, chains, LEAST_POINTS).filter((piece) => usable(toFullResolution(plane, piece.middle)))
  return measureCandidates(plane, joinPieces(points, pieces)).filter((c) => c.depth > LEAST_DEPTH && c.step < MOST_STEP && c.lengthPx > 1.5 * c.widthPx)
}

/** Do two candidates cover the same ink? */
const sameInk = (a: Candidate, b: Candidate): boolean => {
  const dx = b.middle[0] - a.middle[0]
  const dy = b.middle[1] - a.middle[1]
  if (Math.abs(a.along[0] * b.along[1] - a.along[1] * b.along[0]) > 0.2) return false
  const t = Math.abs(dx * a.along[0] + dy * a.along[1])
  const d = Math.abs(dx * a.along[1] - dy * a.along[0])
  return d < 0.7 * Math.max(a.widthPx, b.widthPx) && t < (a.lengthPx + b.lengthPx) / 2 - 0.5 * Math.min(a.lengthPx, b.lengthPx)
}

/** Farther from its middle than this, px, another candidate's middle would have to be for ink in common to be out of the question. */
const farthestOf = ({ middle: [x, y], lengthPx, widthPx }: Candidate): Disc => [x, y, lengthPx / 2 + 0.7 * widthPx]

const weight = (c: Candidate): number => c.depth * c.lengthPx

/** Weight of what is already known of a candidate's ink: the best line, or the best on its left and on its right together, where it lies between two. */
const knownWeight = ({ middle, along, widthPx }: Candidate, rivals: readonly Candidate[]): number => {
  const best = (some: readonly Candidate[]): number => Math.max(0, ...some.map(weight))
  const aside = (c: Candidate): number => (c.middle[1] - middle[1]) * along[0] - (c.middle[0] - middle[0]) * along[1]
  const left = rivals.filter((c) => aside(c) < -0.15 * widthPx)
  const right = rivals.filter((c) => aside(c) > 0.15 * widthPx)
  return Math.max(1.15 * best(rivals), best(left) + best(right))
}

/** Adds the coarser level's finds, keeping of two for the same ink the one with more contrast × length. */
const mergeLevels = (fine: readonly Candidate[], coarse: readonly Candidate[]): Candidate[] => {
  const all = [...fine, ...coarse]
  const kept = all.map((_, i) => i < fine.length)
  const near = nearDiscs(all, farthestOf)
  coarse.forEach((candidate, n) => {
    const rivals = near(farthestOf(candidate)).filter((i) => kept[i] === true && sameInk(all[i] as Candidate, candidate))
    if (knownWeight(candidate, rivals.map((i) => all[i] as Candidate)) >= weight(candidate)) return
    for (const rival of rivals) kept[rival] = false
    kept[fine.length + n] = true
  })
  return all.filter((_, i) => kept[i])
}

/** Strokes this many px of a plane wide are seen whole in it, with bare paper between any two as far apart as they are wide. */
const BROAD = 1.9

/** A photo of fewer pixels than this is looked at closely everywhere and whatever its ink: it costs little, and its strokes are narrow. */
const SMALL = 2.5e6

/** Width that three quarters of the ink exceeds, px: long dark lines count for most. */
const narrowInk = (candidates: readonly Candidate[]): number => weightedQuantile(candidates, 0.25, (c) => c.widthPx, ({ depth, lengthPx }) => depth * depth * lengthPx) || 0

/** Where lines are looked for. */
export interface Look {
  /** Whether a line at a place, px, is of interest; the rest is not looked at closely. */
  readonly usable?: Where
  /** Whether a place is on the paper, where that is more than what is of interest. */
  readonly paper?: Where
  /** Take the finest scale whatever the ink: a ruler's ticks are finer than the marks beside it. */
  readonly fineTicks?: boolean
}

/**
 * Every thin straight dark line in the picture, whatever it may be, at three scales: the working reduction, and twice and four
 * times as much, as a stroke many px wide is flat in the middle and shows as one line only when reduced. Where the ink is
 * broad the finest is left out, and in a large photo it is taken only about what the others show: it takes most of the time, and
 * shows the grain of strokes rather than strokes.
 */
export const findCandidates = (raster: Raster, look: Look = {}): Candidate[] => {
  const factor = workingFactor(raster)
  const middle = boxSums(raster, 2 * factor)
  const [seen, coarse] = [middle, doubled(middle)].map((sums) => candidatesOf(logOf(sums), look)) as [Candidate[], Candidate[]]
  const large = look.fineTicks !== true && raster.width * raster.height > SMALL
  const finest = large && narrowInk(seen) > BROAD * middle.factor ? [] : candidatesOf(logPlane(raster, factor), look, large ? [...seen, ...coarse] : null)
  return [finest, seen, coarse].reduce(mergeLevels)
}
