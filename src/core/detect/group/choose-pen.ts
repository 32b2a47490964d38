import type { Raster } from '#core/detect/raster'
import { quantile } from '#core/numeric/median'
import { countStrokes } from './count-strokes.ts'
import type { InkRun } from './ink-runs.ts'
import { shareOf } from './ink-law.ts'
import { binned, type GroupPixels, groupPixels, type GroupStroke, type Pen } from './stroke-group.ts'
import { mean } from '#core/numeric/moments'

/** Widths tried, as shares of the first guess. */
const WIDTHS = [0.6, 0.75, 0.95, 1.2, 1.5, 1.9]
/** Half way to the next width tried, as a factor. */
const BETWEEN = 1.12
/** Runs that are looked at. */
const RUNS = 12
/** A pen that leaves this many times more unexplained than the best is not the one. */
const WORSE = 3

/** Darkness where the stroke has ink: the mean of the upper half of its knots. */
export const darknessOf = ({ amplitudes }: Pick<GroupStroke, 'amplitudes'>): number => {
  const upper = [...amplitudes].sort((a, b) => b - a).slice(0, Math.ceil(amplitudes.length / 2))
  return mean(upper)
}

/** How dark strokes are as a rule, and how unlike each other: median plus 80 % point of |ln(darkness over usual)|. */
export const usualDarkness = (inks: readonly number[]): { readonly usual: number; readonly unlike: number } => {
  // Pale fillers between real strokes pull the median down.
  const usual = quantile(inks, 0.65)
  const off = inks.map((ink) => Math.abs(Math.log(Math.max(1e-3, ink / usual))))
  return { usual, unlike: quantile(off, 0.5) + quantile(off, 0.8) }
}

/** A pen, how dark it draws, and how unlike each other the strokes are that it would have drawn. */
export interface ChosenPen {
  readonly pen: Pen
  /** Share of the light that a stroke's ink takes. */
  readonly usual: number
  readonly unlike: number
}

interface Trial extends ChosenPen {
  readonly cost: number
  /** Mean of the criterion by which strokes are counted. */
  readonly score: number
}

/** What is known of the pen before its strokes are told apart. */
export interface PenGuess {
  /** Width to start from, px. */
  readonly halfWidth: number
  /** The photo's blur as it may be, px. */
  readonly sigmas: readonly number[]
  /** Darkness of a mark, and of the paper, grey levels. */
  readonly usual: number
  readonly paper: number
  /** Half width, px, at and below which a pen is out of the question. */
  readonly thinnest: number
}

/** A run and its pixels. */
type Piece = readonly [InkRun, GroupPixels]

/** Reads some runs with one pen. */
const tryPen = (pieces: readonly Piece[], pen: Pen, usual: number): Trial | null => {
  const counts = pieces.flatMap(([run, pixels]) => countStrokes(pixels, run, { pen, usual }) ?? [])
  const inks = counts.flatMap(({ fit }) => fit.strokes.map(darknessOf))
  if (inks.length < 2) return null
  return { pen, ...usualDarkness(inks), cost: mean(counts.map((c) => c.fit.cost)), score: mean(counts.map((c) => c.score)) }
}

/** The trial whose strokes are most alike, of those that leave little unexplained. */
const mostAlike = (trials: readonly Trial[]): Trial | null => {
  const least = Math.min(...trials.map((t) => t.cost))
  return [...trials].filter((t) => t.cost < WORSE * least).sort((a, b) => a.unlike - b.unlike)[0] ?? null
}

/**
 * The pen that drew strokes which run into each other. Its width: too thin a pen needs pale strokes between the real ones, too
 * broad a one merges some, so the right one is that whose strokes come out most alike. And of the blurs the one that explains most.
 * @param crowded runs wider than one stroke
 */
export const choosePen = (raster: Raster, crowded: readonly InkRun[], guess: PenGuess): ChosenPen | null => {
  const pieces = Array.from({ length: Math.min(RUNS, crowded.length) }, (_, i): Piece => {
    const run = crowded[Math.floor((i * crowded.length) / Math.min(RUNS, crowded.length))] as InkRun
    return [run, binned(groupPixels(raster, run.frame), run.frame)]
  })
  const read = (widths: readonly number[], sigma: number): Trial[] =>
    widths.filter((halfWidth) => halfWidth > guess.thinnest).flatMap((halfWidth) => tryPen(pieces, { halfWidth, sigma }, shareOf(guess.usual, { halfWidth, sigma }, guess.paper)) ?? [])
  const coarse = guess.sigmas.flatMap((sigma) => mostAlike(read(WIDTHS.map((share) => share * guess.halfWidth), sigma)) ?? [])
  const [near] = coarse.sort((a, b) => a.score - b.score)
  return near === undefined ? null : mostAlike([near, ...read([near.pen.halfWidth / BETWEEN, near.pen.halfWidth * BETWEEN], near.pen.sigma)])
}
