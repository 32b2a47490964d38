import { medianOrZero, robustSpread } from '#core/numeric/median'
import type { StrokeFit } from './fit-stroke.ts'
import { seenWidth, type StrokeModel } from './stroke-model.ts'
import { mistakenByTouch } from './touching.ts'

/** One stroke's own noise is known to some 30 %: it counts for itself where half of it is still more than what is usual. */
const FAR_ABOVE = 2

/** One pen's strokes differ in width, and one hand's in bend, by this many of their usual deviations without a cause. */
const USUAL_SPREAD = 2.5
/** But by no more than this share of a pen's own width: where more are odd, most are strokes that run into each other (seen on outside photos; no source). */
const OF_PEN = 0.1

/** A stroke that looks wider or narrower than the others, its blur counted in, has an edge misjudged, by a neighbour's ink as a rule: half of that moves its middle. */
const OF_WIDTH = 0.5
/** And one that bends unlike the others follows now this, now that of two that cross: so does its middle. */
const OF_BEND = 0.5

/** What is far from the camera looks narrow: a stroke's width is held against those of this many beside it. */
const BESIDE = 15

/** Median of the widths around the i-th, in the order in which the strokes stand. */
export const usualBeside = (widths: readonly number[], i: number): number => {
  const from = Math.max(0, Math.min(widths.length - BESIDE, i - (BESIDE >> 1)))
  return medianOrZero(widths.slice(from, from + BESIDE))
}

/** How far to either side two strokes lie that are seen as one: they spread its ink by half their distance, and it is 3.1 spreads wide (see seenWidth). */
export const halfApart = (seen: number, usual: number): number => Math.sqrt(Math.max(0, seen ** 2 - usual ** 2)) / 3.1

/**
 * A stroke along the rows or columns of the photo meets them alike all its length, and so does what the model misses of its edges: it
 * may be off by this much, px, less the more rows it goes across, none from one on (seen on rendered pens, scripts/bench/detect.ts; no source).
 */
const ALONG_ROWS = 0.015

const pulledByRows = ({ along: [x, y], halfLength }: StrokeModel): number => ALONG_ROWS * Math.max(0, 1 - 2 * halfLength * Math.min(Math.abs(x), Math.abs(y)))

/**
 * Standard uncertainty of each stroke's sideways place, px: under the noise that is usual in the photo, or its own where that is far
 * above it, what a width that is not the pen's leaves open, what strokes that touch do to each other, and what the photo's rows do. A fit that knows no noise keeps the uncertainty it came with.
 * @param fits in the order in which the strokes stand
 * @param broad which strokes another, broader pen drew
 */
export const pulledAside = (fits: readonly StrokeFit[], broad: readonly boolean[] = []): number[] => {
  const variance = ({ clumping, noise }: StrokeFit): number => clumping * noise ** 2
  const usual = medianOrZero(fits.map(variance))
  const widths = fits.map(({ model }) => seenWidth(model))
  const beside = widths.map((_, i) => usualBeside(widths, i))
  const odd = widths.map((width, i) => (broad[i] ? 0 : Math.abs(width - (beside[i] as number))))
  const spread = robustSpread(odd)
  const bends = fits.map(({ model }) => Math.abs(model.bow[2]))
  const usualBend = robustSpread(bends)
  const touched = mistakenByTouch(fits)
  return fits.map((fit, i) => {
    const byNoise = fit.noise > 0 ? (fit.uOffset / fit.noise) * Math.sqrt(Math.max(usual, variance(fit) / FAR_ABOVE)) : fit.uOffset
    const byWidth = OF_WIDTH * Math.max(0, (odd[i] as number) - Math.min(USUAL_SPREAD * spread, OF_PEN * (beside[i] as number)))
    const byBend = OF_BEND * Math.max(0, (bends[i] as number) - USUAL_SPREAD * usualBend)
    return Math.hypot(byNoise, touched[i] as number, byWidth, byBend, pulledByRows(fit.model))
  })
}
