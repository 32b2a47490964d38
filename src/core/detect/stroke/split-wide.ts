import { medianOrZero } from '#core/numeric/median'
import type { StrokeFit } from './fit-stroke.ts'
import type { Raster } from '#core/detect/raster'
import { refineModels } from './refine-marks.ts'
import { oneBroadPen } from '#core/detect/dial/second-kind'
import { inkPerLength, type StrokeModel } from './stroke-model.ts'

/** A stroke this much wider than usual may be two that overlap. */
const WIDE = 1.32
/** And has this much more ink: width and blur of a thin stroke can trade places, its ink cannot. */
const INKED = 1.2
/** Two strokes closer than this share of the usual width cannot be told from one. */
const APART = 0.5
/** Nor are two that overlap and lie closer than this share of the way from mark to mark two rests: a stroke was drawn twice. */
const ONE_REST = 0.1

/** So many wide strokes that are alike may be those of a broader pen. */
const ALIKE = 5
/** Then two strokes must leave less behind by this share: those that lie side by side, seen as one band, leave up to three times as much. */
const PLAINLY = 0.25
/** And by this share if that is so of most; two laid over one broad band leave as much as it does, to 4 % (drawn here). */
const MOSTLY = 0.15

/** A stroke of so many usual widths is hardly ever one of that pen, and two need not leave less behind than it does (of 56 found so on photos of three renderers 52 were two or more). */
const TOO_WIDE = 1.6

/** The stroke as two of the usual width, side by side so that their ink spreads as far about the middle as the wide one's does. */
const halves = (model: StrokeModel, halfWidth: number): readonly StrokeModel[] => {
  const aside = Math.max(0.35 * halfWidth, Math.sqrt(Math.max(0, model.halfWidth ** 2 - halfWidth ** 2) / 3))
  return [-1, 1].map((side) => ({
    ...model,
    middle: [model.middle[0] - side * aside * model.along[1], model.middle[1] + side * aside * model.along[0]] as const,
    halfWidth,
  }))
}

/** Is a stroke rather two of this half width side by side, px: do they leave clearly less behind than it does? */
export const isRatherTwo = (raster: Raster, fit: StrokeFit, halfWidth: number): boolean => {
  const pair = fitByTurns(raster, halves(fit.model, halfWidth), [], TURNS).flatMap((half) => half ?? [])
  return pair.length === 2 && noiseOf(pair) <= (1 - MOSTLY) * fit.noise
}

/** Sideways distance of two fits' middles, px. */
const distance = (a: StrokeModel, b: StrokeModel): number => {
  const dx = b.middle[0] - a.middle[0]
  const dy = b.middle[1] - a.middle[1]
  return Math.abs(dy * a.along[0] - dx * a.along[1] + b.bow[0] - a.bow[0])
}

const noiseOf = (fits: readonly StrokeFit[]): number => Math.max(...fits.map((f) => f.noise))

/** Noise found in so few pixels scatters by 1/√(2n) of itself: two strokes must leave less behind by three times that, and by 3 %. */
const leastGain = ({ model }: StrokeFit): number => Math.max(0.03, 3 / Math.sqrt(2 * 4 * model.halfLength * (model.halfWidth + 3 * model.sigma + 3)))

/** Each of two strokes takes its ink from what the other leaves, so that it needs some turns until both have their share. */
const TURNS = 4

/** Strokes that touch, each fitted with the others' ink taken out, by turns. */
export const fitByTurns = (raster: Raster, start: readonly StrokeModel[], near: readonly StrokeFit[], turns = TURNS): readonly (StrokeFit | null)[] => {
  let fits: readonly (StrokeFit | null)[] = []
  let models = start
  for (let turn = 0; turn < turns && models.length === start.length; turn++) {
    fits = refineModels(raster, models, near).slice(near.length)
    models = fits.flatMap((f) => (f === null ? [] : [f.model]))
  }
  return fits
}

/** What most of the marks have in common: half width and ink (half width × mean amplitude), and how far they are apart, px. */
export interface UsualStroke {
  readonly halfWidth: number
  readonly ink: number
  readonly gapPx: number
}

/** What a stroke is read as: itself, or two; `byWidth` where its width says so and the picture only does not gainsay it. */
export interface Reading {
  readonly parts: readonly StrokeFit[]
  readonly byWidth: boolean
}

/** A stroke as it is. */
export const asOne = (fit: StrokeFit): Reading => ({ parts: [fit], byWidth: false })

/** A wide stroke read as two. */
interface Trial {
  readonly pair: readonly [StrokeFit, StrokeFit]
  /** Whether both come out like the usual one, apart by half a width or more. */
  readonly alike: boolean
  /** What they leave behind, over what the one does. */
  readonly left: number
  /** By how much less they must leave, taken by themselves. */
  readonly gain: number
  /** Whether wide strokes are those of a broader pen. */
  readonly broad: boolean
}

/** A stroke wider than its fellows as two of the usual width; null where it is not wider, or none are found. */
const tryTwo = (raster: Raster, fit: StrokeFit, others: readonly StrokeFit[], usual: UsualStroke): Trial | null => {
  const { model } = fit
  if (model.halfWidth < WIDE * usual.halfWidth || 2 * (model.halfWidth - usual.halfWidth) < 0.5 || inkPerLength(model) < INKED * usual.ink) return null
  const wide = [model.halfWidth, ...others.map((o) => o.model.halfWidth).filter((w) => w > WIDE * usual.halfWidth)]
  const broad = wide.length >= ALIKE && oneBroadPen(wide)
  const near = others.filter((o) => Math.hypot(o.model.middle[0] - model.middle[0], o.model.middle[1] - model.middle[1]) < o.model.halfLength + model.halfLength)
  const [a, b] = fitByTurns(raster, halves(model, usual.halfWidth), near, broad ? TURNS : 1)
  if (a === undefined || b === undefined || a === null || b === null) return null
  const least = Math.max(2 * APART * usual.halfWidth, Math.min(2 * usual.halfWidth, ONE_REST * usual.gapPx))
  const areUsual = [a, b].every(({ model: m }) => m.halfWidth < 0.75 * model.halfWidth && inkPerLength(m) > 0.5 * usual.ink && inkPerLength(m) < 1.5 * usual.ink && m.halfLength > 0.5 * model.halfLength)
  return { pair: [a, b], alike: areUsual && distance(a.model, b.model) >= least, left: noiseOf([a, b]) / fit.noise, gain: Math.max(leastGain(fit), broad ? PLAINLY : 0), broad }
}

/** Strokes whose half widths differ by less than this share are as wide. */
const AS_WIDE = 0.2

/**
 * Splits strokes that are wider than their fellows in two where the picture supports it: both halves come out like the usual
 * stroke, apart by half a width or more, and together leave clearly less behind than the one did; where many are alike, far less.
 * Where one was clearly two, of those as wide it is enough that they leave no more behind: something may lie across them; and so it is
 * of those far too wide for the pen, unless two leave more behind of most such: then they were drawn, or printed, broader.
 * @returns for each fit its two halves, or itself where one stroke says it as well
 */
export const splitWide = (raster: Raster, fits: readonly StrokeFit[], usual: UsualStroke): readonly Reading[] => {
  const trials = fits.map((fit) => tryTwo(raster, fit, fits.filter((f) => f !== fit), usual))
  const isClear = (trial: Trial): boolean => trial.alike && trial.left <= 1 - trial.gain
  const clear = fits.flatMap(({ model }, i) => (trials[i] && isClear(trials[i]) ? [model.halfWidth] : []))
  const isTooWide = ({ model }: StrokeFit): boolean => model.halfWidth > TOO_WIDE * usual.halfWidth
  const areTwo = medianOrZero(fits.flatMap((fit, i) => (isTooWide(fit) ? (trials[i]?.left ?? []) : []))) <= 1
  const isAsWideAsClear = ({ model }: StrokeFit): boolean => clear.some((w) => Math.abs(w - model.halfWidth) < AS_WIDE * w)
  return fits.map((fit, i) => {
    const trial = trials[i] ?? null
    if (trial === null) return asOne(fit)
    if (isClear(trial)) return { parts: trial.pair, byWidth: false }
    const byWidth = trial.alike && !trial.broad && trial.left <= 1 && ((areTwo && isTooWide(fit)) || isAsWideAsClear(fit))
    return byWidth ? { parts: trial.pair, byWidth } : asOne(fit)
  })
}
