import type { Raster } from '#core/detect/raster'
import { quantile } from '#core/numeric/median'
import { countStrokes } from './count-strokes.ts'
import type { InkRun } from './ink-runs.ts'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import { binned, groupPixels, type GroupStroke, type Pen } from './stroke-group.ts'

/** Widths tried, as shares of the first guess. */
const WIDTHS = [0.6, 0.75, 0.95, 1.2, 1.5]
/** Half way to the next width tried, as a factor. */
const BETWEEN = 1.12
/** Runs that are looked at. */
const RUNS = 12
/** A pen that leaves this many times more unexplained than the best is not the one. */
const WORSE = 3

/** Darkness where the stroke has ink: the mean of the upper half of its knots. */
export const darknessOf = ({ amplitudes }: GroupStroke): number => {
  const upper = [...amplitudes].sort((a, b) => b - a).slice(0, Math.ceil(amplitudes.length / 2))
  return upper.reduce((sum, a) => sum + a, 0) / upper.length
}

/** A pen, how dark it draws, and how unlike each other the strokes are that it would have drawn. */
export interface ChosenPen {
  readonly pen: Pen
  readonly usual: number
  readonly unlike: number
}

interface Trial extends ChosenPen {
  readonly cost: number
}

/** What is known of the pen before its strokes are told apart. */
export interface PenGuess extends Pen {
  /** Darkness of a mark, grey levels. */
  readonly usual: number
  /** Half width, px, at and below which a pen is out of the question. */
  readonly thinnest: number
}

/** Reads some runs with one pen. */
const tryPen = (raster: Raster, runs: readonly InkRun[], pen: Pen, usual: number): Trial | null => {
  const counts = runs.flatMap((run) => countStrokes(binned(groupPixels(raster, run.frame), run.frame), run, pen, usual) ?? [])
  const inks = counts.flatMap(({ fit }) => fit.strokes.map(darknessOf))
  if (inks.length < 2) return null
  // Pale fillers between real strokes pull the median down.
  const middle = quantile(inks, 0.65)
  const off = inks.map((ink) => Math.abs(Math.log(Math.max(1e-3, ink / middle))))
  return { pen, usual: middle, unlike: quantile(off, 0.5) + quantile(off, 0.8), cost: counts.reduce((sum, c) => sum + c.fit.cost, 0) / counts.length }
}

/**
 * The width of the pen that drew strokes which run into each other: too thin a pen needs pale strokes between the real ones,
 * too broad a one merges some, so the right one is that whose strokes come out most alike.
 * @param guess width to start from, and the photo's blur
 */
export const choosePen = (raster: Raster, runs: readonly InkRun[], guess: PenGuess): ChosenPen | null => {
  const crowded = runs.filter((run) => 2 * run.extent > 1.35 * seenWidth(guess))
  const some = Array.from({ length: Math.min(RUNS, crowded.length) }, (_, i) => crowded[Math.floor((i * crowded.length) / Math.min(RUNS, crowded.length))] as InkRun)
  const read = (widths: readonly number[]): Trial[] =>
    widths.filter((halfWidth) => halfWidth > guess.thinnest).flatMap((halfWidth) => tryPen(raster, some, { halfWidth, sigma: guess.sigma }, guess.usual) ?? [])
  const best = (trials: readonly Trial[]): Trial | null => {
    const least = Math.min(...trials.map((t) => t.cost))
    return [...trials].filter((t) => t.cost < WORSE * least).sort((a, b) => a.unlike - b.unlike)[0] ?? null
  }
  const coarse = read(WIDTHS.map((share) => share * guess.halfWidth))
  const near = best(coarse)
  return near === null ? null : best([...coarse, ...read([near.pen.halfWidth / BETWEEN, near.pen.halfWidth * BETWEEN])])
}
