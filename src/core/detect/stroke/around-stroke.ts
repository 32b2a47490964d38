import type { Raster } from '#core/detect/raster'
import { greyAt } from '#core/detect/grey-at'
import { besideLineAt, centreLineAt, inkProfile, meanAmplitude, type StrokeModel } from './stroke-model.ts'
import type { StrokeFit } from './fit-stroke.ts'

const SIDE_PLACES = 9

/**
 * How much brighter a stroke's side of positive `s` is than the other, over the stroke's own darkness: near 0 on paper, near ±1 and beyond at an edge.
 * @param reach how far along it is looked, half lengths of the stroke
 */
export const sideStep = (raster: Raster, model: StrokeModel, reach = 0.9): number => {
  const [ux, uy] = model.along
  const aside = model.halfWidth + 2.5 * model.sigma + 1
  const steps = Array.from({ length: SIDE_PLACES }, (_, k) => centreLineAt(model, reach * ((2 * k) / (SIDE_PLACES - 1) - 1)))
    .map(([x, y]) => greyAt(raster, [x - aside * uy, y + aside * ux]) - greyAt(raster, [x + aside * uy, y - aside * ux]))
    .filter((step) => !Number.isNaN(step))
  return steps.length === 0 ? 0 : steps.reduce((sum, step) => sum + step, 0) / steps.length / Math.max(1, meanAmplitude(model))
}

/** A stroke whose line goes on this dark beyond it is more likely a piece of a rule, a fold or a pen line. */
export const ON = 0.4

/** Pieces that a stroke's continuation is told from, and places along each. */
const PIECES = 4
const PLACES = 6

/** How much darker the line is than the paper on its darker side, mean over a part of it from τ to τ; NaN outside the photo. */
const darknessOver = (raster: Raster, model: StrokeModel, from: number, to: number): number => {
  const aside = model.halfWidth + 2.5 * model.sigma + 1
  let sum = 0
  for (let k = 0; k < PLACES; k++) {
    const tau = from + ((k + 0.5) / PLACES) * (to - from)
    const at = (off: number): number => greyAt(raster, besideLineAt(model, tau, off))
    sum += Math.min(at(aside), at(-aside)) - at(0)
  }
  return sum / PLACES
}

/** Darkness of each piece of a stroke's line beyond an end, from the end on over the stroke's own length. */
const onward = (raster: Raster, model: StrokeModel, way: -1 | 1): number[] => {
  const start = 1 + (2 * model.sigma + 1) / model.halfLength
  return Array.from({ length: PIECES }, (_, i) => darknessOver(raster, model, way * (start + (2 * i) / PIECES), way * (start + (2 * (i + 1)) / PIECES)))
}

/** How much darker a stroke is than the paper on its darker side, grey levels: 0 and less along an edge. */
export const darkerThanSides = (raster: Raster, model: StrokeModel): number => darknessOver(raster, model, -0.9, 0.9)

/**
 * How dark a stroke's line goes on beyond its ends, over the stroke's own darkness: near 0 for a mark, near 1 for a piece cut out of a rule,
 * a fold or a pen line. The darker way on counts, by its faintest quarter over the stroke's own length; 0 where the photo ends before.
 * @param ways which ends are looked beyond: that at τ = −1, that at 1
 */
export const goesOn = (raster: Raster, model: StrokeModel, ways: readonly (-1 | 1)[] = [-1, 1]): number => {
  const own = darkerThanSides(raster, model)
  const faintest = ways.map((way) => Math.min(...onward(raster, model, way)))
  return own > 0 ? Math.max(0, ...faintest.filter((dark) => dark > 0)) / own : 0
}

/** The same for a stroke among others, whose ink lies beside it and may cross its line: by the darkness it was fitted with, and the faintest quarter but one. */
export const goesOnAmong = (raster: Raster, model: StrokeModel): number => {
  const dark = ([-1, 1] as const).map((way) => onward(raster, model, way).sort((a, b) => a - b)[1] as number)
  return Math.max(0, ...dark.filter((d) => d > 0)) / (meanAmplitude(model) * inkProfile(0, model.halfWidth, model.sigma))
}

/** The paper's end goes on beyond a stroke taken from it; places along it are looked at up to this share of its half length. */
const BEYOND = 1.5
/** One side darker than the other by this share of the stroke's own darkness is no bare paper. */
const STEP = 0.4

/**
 * Is a stroke the place where the paper ends, its rim or the shadow beside it? Then what lies beyond is darker than the paper.
 * For strokes with no neighbour on that side.
 * @param towards a place on the row, px: the paper is on its side
 */
export const isPaperEnd = (raster: Raster, { model }: StrokeFit, towards: readonly [number, number]): boolean => {
  const [ux, uy] = model.along
  const side = -(towards[0] - model.middle[0]) * uy + (towards[1] - model.middle[1]) * ux > 0 ? 1 : -1
  return side * sideStep(raster, model, BEYOND) > STEP
}
