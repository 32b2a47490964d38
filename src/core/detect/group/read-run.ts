import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { Raster } from '#core/detect/raster'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { seenWidth } from '#core/detect/stroke/stroke-model'
import type { ChosenPen } from './choose-pen.ts'
import { type Count, countStrokes, scoreOf } from './count-strokes.ts'
import { CROWDED } from './crowd-of.ts'
import { fitGroup, type GroupFit } from './fit-group.ts'
import { strokesOf } from './group-strokes.ts'
import { type InkRun, within } from './ink-runs.ts'
import { binned, type GroupPixels, groupPixels } from './stroke-group.ts'

/** Does one even band as broad as all strokes together say as much, by the criterion that counts them: a pointer, or a smudge, without paper in it? */
const isBand = (pixels: GroupPixels, { fit: { strokes }, score }: Count, { frame }: InkRun, { pen, usual }: ChosenPen): boolean => {
  const places = strokes.map((s) => s.offset)
  const [from, to] = [Math.min(...places), Math.max(...places)]
  const band = strokes.slice(0, 1).map((s) => ({ ...s, offset: (from + to) / 2 }))
  const whole = fitGroup(pixels, band, frame, { ...pen, halfWidth: pen.halfWidth + (to - from) / 2 }, usual)
  return whole !== null && scoreOf(whole, pixels) < score
}

/** Several strokes in one's place leave this many times as much behind: 1.4 to 2.1 for a real dial's broad ticks, seldom above 1.2 for rendered groups. */
const FAR_MORE = 1.3

/** Is a broad stroke that was found by itself one: do more strokes than it has room for, side by side, leave far more behind? */
const isRatherOne = ({ fit, widthPx }: FittedMark, { strokes, noise }: GroupFit, { pen }: ChosenPen): boolean =>
  strokes.length * 2 * pen.halfWidth > widthPx && noise > FAR_MORE * fit.noise

/** What is known of all runs. */
export interface KnownPen extends ChosenPen {
  /** Noise's clumping, taken over from strokes fitted one by one. */
  readonly clumping: number
  /** What a lone stroke of the pen leaves unexplained (see GroupFit.cost): several explain no more than that. */
  readonly leaves: number
}

/** The strokes of one run, when they are not as many as the marks already found there. */
export const readRun = (raster: Raster, run: InkRun, known: KnownPen, found: readonly FittedMark[]): StrokeFit[] | null => {
  if (2 * run.extent < CROWDED * seenWidth(known.pen) && found.length === 1) return null
  const pixels = groupPixels(raster, run.frame)
  const bins = binned(pixels, run.frame)
  const count = countStrokes(bins, run, known, known.leaves)
  if (count === null || count.fit.strokes.filter((s) => Math.abs(s.offset) <= run.extent).length === found.length || isBand(bins, count, run, known)) return null
  const whole = fitGroup(pixels, count.fit.strokes, run.frame, known.pen, known.usual)
  if (whole === null || (found.length === 1 && isRatherOne(found[0] as FittedMark, whole, known))) return null
  return strokesOf(whole, run, known, known.clumping)
}

/**
 * All fits, those in each run given up for what is read there.
 * @param read what is read of a run, where these marks were found and these fits lie elsewhere; null leaves it as it is
 * @returns null when nothing changes
 */
export const rereadRuns = (runs: readonly InkRun[], marks: readonly FittedMark[], read: (run: InkRun, found: readonly FittedMark[], rest: readonly StrokeFit[]) => StrokeFit[] | null): StrokeFit[] | null => {
  let kept = marks.map((m) => m.fit)
  let changed = false
  for (const run of runs) {
    const found = marks.filter((m) => within(run, m.fit.model.middle))
    const rest = kept.filter((f) => !found.some((m) => m.fit === f))
    const strokes = read(run, found, rest)
    if (strokes === null) continue
    changed = true
    kept = [...rest, ...strokes]
  }
  return changed ? kept : null
}
