import { medianOrZero } from '#core/numeric/median'
import type { StrokeFit } from './fit-stroke.ts'
import type { Raster } from '#core/detect/raster'
import { refineModels } from './refine-marks.ts'
import { inkPerLength, meanAmplitude, type StrokeModel } from './stroke-model.ts'

/** Together less ink than this many usual strokes, two that lie within one width of each other share a single stroke. */
const SHARED = 1.5

/** Do two fits lie along each other within about one stroke's width? */
const beside = (a: StrokeModel, b: StrokeModel, width: number): boolean => {
  const dx = b.middle[0] - a.middle[0]
  const dy = b.middle[1] - a.middle[1]
  const along = Math.abs(dx * a.along[0] + dy * a.along[1])
  const aside = Math.abs(dy * a.along[0] - dx * a.along[1])
  return along < Math.max(a.halfLength, b.halfLength) && aside < width && Math.abs(a.along[0] * b.along[1] - a.along[1] * b.along[0]) < 0.25
}

/** One stroke between two, of the usual width. */
const between = (a: StrokeModel, b: StrokeModel, halfWidth: number): StrokeModel => {
  const [p, q] = [inkPerLength(a), inkPerLength(b)]
  const share = p / (p + q)
  const long = a.halfLength > b.halfLength ? a : b
  const other = long === a ? b : a
  const dx = other.middle[0] - long.middle[0]
  const dy = other.middle[1] - long.middle[1]
  const aside = (dy * long.along[0] - dx * long.along[1]) * (long === a ? 1 - share : share)
  return {
    ...long,
    middle: [long.middle[0] - aside * long.along[1], long.middle[1] + aside * long.along[0]],
    bow: [0, 0, 0],
    halfWidth,
    amplitudes: long.amplitudes.map(() => meanAmplitude(a) + meanAmplitude(b) * 0.5),
  }
}

/** Puts together pairs of fits that have divided one stroke's ink between them, and fits that stroke anew. */
export const mergeShared = (raster: Raster, fits: readonly StrokeFit[]): StrokeFit[] => {
  const halfWidth = medianOrZero(fits.map((f) => f.model.halfWidth))
  const sigma = medianOrZero(fits.map((f) => f.model.sigma))
  const usual = medianOrZero(fits.map((f) => inkPerLength(f.model)))
  let kept = [...fits]
  for (const fit of fits) {
    if (!kept.includes(fit)) continue
    const twin = kept.find((o) => o !== fit && beside(fit.model, o.model, 2 * halfWidth + 0.8 * sigma) && inkPerLength(fit.model) + inkPerLength(o.model) < SHARED * usual)
    if (twin === undefined) continue
    const rest = kept.filter((o) => o !== fit && o !== twin)
    const near = rest.filter((o) => Math.hypot(o.model.middle[0] - fit.model.middle[0], o.model.middle[1] - fit.model.middle[1]) < o.model.halfLength + fit.model.halfLength)
    const whole = refineModels(raster, [between(fit.model, twin.model, halfWidth)], near)[near.length]
    if (whole !== undefined && whole !== null) kept = [...rest, whole]
  }
  return kept
}
