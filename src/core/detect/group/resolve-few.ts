import type { FittedMark } from '#core/detect/centre/seen-from-centre'
import type { View } from '#core/detect/dial/left-round'
import type { Raster } from '#core/detect/raster'
import type { StrokeFit } from '#core/detect/stroke/fit-stroke'
import { fitByTurns } from '#core/detect/stroke/split-wide'
import { inkPerLength, seenWidth, type StrokeModel } from '#core/detect/stroke/stroke-model'
import { quantile } from '#core/numeric/median'
import { type ChosenPen, darknessOf } from './choose-pen.ts'
import type { Crowd } from './crowd-of.ts'
import { fitGroup } from './fit-group.ts'
import { shareOf } from './ink-law.ts'
import type { InkRun } from './ink-runs.ts'
import { readRun, rereadRuns } from './read-run.ts'
import { binned, groupPixels } from './stroke-group.ts'

/** Fewer lone strokes do not tell the pen. */
const LONE = 8
/** More of them tell no better what they leave unexplained. */
const TELLING = 15
/** Each of several strokes leaves less behind than the worst of what was found in their place, by this share. */
const GAIN = 0.05
/** And is like the pen's: as dark and as wide within these shares, of a width that blur alone does not make up, and no longer than it was told apart; pieces of a pointer are not. */
const LIKE = { leastInk: 0.4, mostInk: 2.2, leastWidth: 0.5, mostSeen: 1.4, mostLength: 1.5 } as const

/** The pen of strokes that stand by themselves. */
const penOf = (slim: readonly FittedMark[], ground: number): ChosenPen => {
  const usual = (of: (m: FittedMark) => number): number => quantile(slim.map(of), 0.5)
  const pen = { halfWidth: usual((m) => m.fit.model.halfWidth), sigma: usual((m) => m.fit.model.sigma) }
  return { pen, usual: shareOf(usual((m) => darknessOf(m.fit.model)), pen, ground), unlike: 0 }
}

const KNOTS = 3

/** What one stroke of the pen leaves unexplained where one lies. */
const leftByOne = (raster: Raster, { frame }: InkRun, { pen, usual }: ChosenPen): number[] => {
  const one = { offset: 0, lean: 0, amplitudes: new Array<number>(KNOTS).fill(0.8 * usual) }
  const fit = fitGroup(binned(groupPixels(raster, frame), frame), [one], frame, pen, usual)
  return fit === null ? [] : [fit.cost]
}

const areNear = (a: StrokeModel, b: StrokeModel): boolean => Math.hypot(a.middle[0] - b.middle[0], a.middle[1] - b.middle[1]) < a.halfLength + b.halfLength

/** Strokes that were told apart together, each fitted by itself; null where they then leave no less behind than what was found there, or are unlike the pen's. */
const bySelf = (raster: Raster, strokes: readonly StrokeFit[], found: readonly FittedMark[], rest: readonly StrokeFit[], { pen }: ChosenPen): StrokeFit[] | null => {
  const near = rest.filter((f) => strokes.some((s) => areNear(f.model, s.model)))
  const fits = fitByTurns(raster, strokes.map((s) => s.model), near).flatMap((f) => f ?? [])
  const most = (1 - GAIN) * Math.max(...found.map((m) => m.fit.noise))
  const usual = quantile(rest.map((f) => inkPerLength(f.model)), 0.5)
  const isLike = (model: StrokeModel, told: StrokeModel): boolean => {
    const ink = inkPerLength(model) / usual
    return ink > LIKE.leastInk && ink < LIKE.mostInk && model.halfWidth > LIKE.leastWidth * pen.halfWidth && seenWidth(model) < LIKE.mostSeen * seenWidth(pen) && model.halfLength < LIKE.mostLength * told.halfLength
  }
  return fits.length === strokes.length && fits.every((f, i) => f.noise < most && isLike(f.model, (strokes[i] as StrokeFit).model)) ? fits : null
}

/**
 * The few strokes that touch among many that stand by themselves, which tell the pen: where one or two marks were found in ink that
 * is wider than one stroke, as many as explain it no better than one explains a lone stroke's, each then fitted by itself.
 * @returns all fits, or null when nothing changes
 */
export const resolveFew = (view: View, marks: readonly FittedMark[], crowd: Crowd): StrokeFit[] | null => {
  if (!crowd.few || crowd.slim.length < LONE) return null
  const chosen = penOf(crowd.slim, crowd.ground)
  const left = crowd.rest.slice(0, TELLING).flatMap((run) => leftByOne(view.raster, run, chosen))
  if (left.length === 0) return null
  const known = { ...chosen, clumping: quantile(marks.map((m) => m.fit.clumping), 0.5), leaves: quantile(left, 0.5) }
  return rereadRuns(crowd.crowded, marks, (run, found, rest) => {
    const told = found.length === 0 ? null : readRun(view.raster, run, known, found)
    return told === null ? null : bySelf(view.raster, told, found, rest, chosen)
  })
}
